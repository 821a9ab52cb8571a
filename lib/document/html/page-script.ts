/**
 * What the page does once it is open: the first time the pointer comes to a figure, the figure is
 * drawn again from its specification and from then on answers to the pointer; for paper all
 * accounts unfold and the stored drawings are used. Nothing is loaded: Vega gets a loader that
 * refuses. A table that is wider than the page can be scrolled by keyboard.
 */
export const pageScript = `(function () {
  var tip = document.getElementById("tip");
  function entry(parent, name, value) {
    var line = document.createElement("div");
    var label = document.createElement("b");
    label.textContent = name === "" ? "" : name + ": ";
    line.appendChild(label);
    line.appendChild(document.createTextNode(String(value)));
    parent.appendChild(line);
  }
  function showTip(handler, event, item, value) {
    if (value === null || value === undefined || value === "") {
      tip.style.display = "none";
      return;
    }
    tip.textContent = "";
    if (typeof value === "object") {
      Object.keys(value).forEach(function (key) {
        if (["", "null", "undefined"].indexOf(value[key]) < 0) entry(tip, key, value[key]);
      });
    } else { entry(tip, "", value); }
    tip.style.display = "block";
    var x = Math.min(event.clientX + 14, window.innerWidth - tip.offsetWidth - 8);
    var y = event.clientY + 16;
    if (y + tip.offsetHeight > window.innerHeight - 8) y = event.clientY - tip.offsetHeight - 12;
    tip.style.left = Math.max(4, x) + "px";
    tip.style.top = Math.max(4, y) + "px";
  }
  var refuse = { load: no, sanitize: no, http: no, file: no };
  function no() { return Promise.reject(new Error("this page loads nothing")); }
  function unpacked(id) {
    var data = document.getElementById(id).textContent;
    var bytes = Uint8Array.from(atob(data), function (letter) { return letter.charCodeAt(0); });
    var stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
    return new Response(stream).text();
  }
  var code = null;
  function drawingCode() {
    code = code || unpacked("drawing-code").then(function (text) {
      var script = document.createElement("script");
      script.textContent = text;
      document.head.appendChild(script);
    });
    return code;
  }
  function enliven(figure) {
    try {
      Promise.all([unpacked(figure.getAttribute("data-spec")), drawingCode()]).then(
        function (parts) { draw(figure, JSON.parse(parts[0])); }, function () {});
    } catch (error) { /* an old browser: the stored drawing stays */ }
  }
  function draw(figure, given) {
    var place = document.createElement("div");
    place.className = "live";
    var logger = vega.logger(vega.None);
    try {
      var spec = vegaLite.compile(given, { logger: logger }).spec;
      var options = { renderer: "svg", loader: refuse, logger: logger };
      var view = new vega.View(vega.parse(spec), options);
      view.tooltip(showTip).initialize(place).hover().runAsync().then(function () {
        figure.querySelector(".drawing").appendChild(place);
        figure.classList.add("ready");
      }, function () {});
    } catch (error) { /* the stored drawing stays */ }
  }
  var figures = Array.prototype.slice.call(document.querySelectorAll("figure[data-spec]"));
  figures.forEach(function (figure) {
    figure.addEventListener("pointerenter", function () { enliven(figure); }, { once: true });
  });
  document.querySelectorAll(".wide").forEach(function (frame) {
    if (frame.scrollWidth <= frame.clientWidth) return;
    frame.tabIndex = 0;
    frame.setAttribute("role", "group");
    frame.setAttribute("aria-label", "A table that scrolls sideways");
  });
  window.addEventListener("scroll", function () { tip.style.display = "none"; }, { passive: true });
  window.addEventListener("beforeprint", function () {
    document.querySelectorAll("details:not(.made)").forEach(function (one) { one.open = true; });
  });
})();`;
