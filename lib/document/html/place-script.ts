/**
 * Shows the place that the pointer is at in every figure along the bank that is in view: a rule at
 * the same chainage. What chainage lies where is read off the figure's own axis, the labels of which
 * stand in the middle of their ticks.
 */
export const placeScript = `(function () {
  function numberOf(label) {
    return Number(label.textContent.replace(/,/g, "").replace("\\u2212", "-"));
  }
  function middle(label, frame) {
    var box = label.getBoundingClientRect();
    return (box.left + box.width / 2 - frame.left) / frame.width;
  }
  function shownDrawing(figure) {
    return Array.prototype.find.call(figure.querySelectorAll(".drawing svg"), function (svg) {
      return svg.getBoundingClientRect().width > 0;
    });
  }
  /* Chainage at both edges of the drawing, and the labelled part of it; null without such an axis. */
  function scaleOf(figure) {
    var svg = shownDrawing(figure);
    if (!svg) return null;
    var title = Array.prototype.filter.call(svg.querySelectorAll("text"), function (text) {
      return text.textContent.indexOf("Chainage") === 0;
    }).pop();
    if (!title) return null;
    var frame = svg.getBoundingClientRect();
    var labels = Array.prototype.filter.call(
      title.parentNode.parentNode.querySelectorAll("text"),
      function (text) { return text.textContent !== "" && !isNaN(numberOf(text)); });
    if (labels.length < 4) return null;
    var first = labels[1], last = labels[labels.length - 2];
    var from = middle(first, frame), to = middle(last, frame);
    var per = (numberOf(last) - numberOf(first)) / (to - from);
    if (!isFinite(per) || per === 0) return null;
    return {
      zero: numberOf(first) - per * from, per: per,
      least: Math.min(numberOf(labels[0]), numberOf(labels[labels.length - 1])),
      most: Math.max(numberOf(labels[0]), numberOf(labels[labels.length - 1]))
    };
  }
  var figures = Array.prototype.map.call(document.querySelectorAll("figure"), function (figure) {
    return { figure: figure, scale: undefined, rule: null };
  });
  function scale(one) {
    if (one.scale === undefined) one.scale = scaleOf(one.figure);
    return one.scale;
  }
  function inView(one) {
    var box = one.figure.getBoundingClientRect();
    return box.width > 0 && box.bottom > 0 && box.top < window.innerHeight;
  }
  function mark(one, chainage) {
    if (one.rule === null) {
      one.rule = document.createElement("div");
      one.rule.className = "place";
      one.figure.querySelector(".drawing").appendChild(one.rule);
    }
    var at = scale(one), svg = shownDrawing(one.figure);
    var isWithin = at && svg && chainage >= at.least && chainage <= at.most;
    one.rule.style.display = isWithin ? "block" : "none";
    if (isWithin) {
      var width = svg.getBoundingClientRect().width;
      one.rule.style.left = ((chainage - at.zero) / at.per) * width + "px";
    }
  }
  function hide() {
    figures.forEach(function (one) { if (one.rule) one.rule.style.display = "none"; });
  }
  figures.forEach(function (one) {
    var drawing = one.figure.querySelector(".drawing");
    if (!drawing) return;
    one.figure.addEventListener("pointermove", function (event) {
      var at = scale(one), svg = shownDrawing(one.figure);
      if (!at || !svg) return;
      var box = svg.getBoundingClientRect();
      var chainage = at.zero + at.per * ((event.clientX - box.left) / box.width);
      if (chainage < at.least || chainage > at.most) return hide();
      figures.filter(inView).filter(scale).forEach(function (other) { mark(other, chainage); });
    });
    one.figure.addEventListener("pointerleave", hide);
  });
})();`;
