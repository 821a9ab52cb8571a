import { cellGap_pt } from "../model/table-widths.js";
import { family } from "./faces.js";

/** A4, pt. */
export const page = { width: 595.28, height: 841.89, side: 45, top: 60, foot: 54 } as const;

/**
 * The look of the paper, in Typst. All words come as data and are set as text: nothing that a
 * survey or its notebook says is ever read as markup.
 */
export const template = String.raw`
#let data = json(bytes(sys.inputs.document))
#let quiet = rgb("#55595d")
#let rule = rgb("#c9cdd1")
#let warn = rgb("#c77700")
#let accent = rgb("#76376f")

#set document(title: data.title, author: data.authors, date: none)
#set text(font: "${family}", size: 9.2pt, lang: "en", hyphenate: false, fallback: false)
#set par(leading: 0.62em, spacing: 0.85em, justify: false)

#let placed(body, id) = if id == "" { body } else { [#body#label(id)] }

#let run(one) = {
  if type(one) == str { one }
  else if "link" in one {
    let to = if one.link.starts-with("#") { label(one.link.slice(1)) } else { one.link }
    link(to, text(fill: accent, [#one.of.map(run).join()]))
  } else {
    let of = [#one.of.map(run).join()]
    let mark = one.mark
    if mark == "strong" { strong(of) }
    else if mark == "emphasis" { emph(of) }
    else if mark == "code" { text(fill: rgb("#3d4f63"), of) }
    else if mark == "small" { text(size: 0.85em, fill: quiet, of) }
    else if mark == "sub" { sub(of) }
    else if mark == "sup" { super(of) }
    else if mark == "missing" { text(fill: quiet, emph(of)) }
    else if mark == "source" { text(fill: quiet, of) }
    else if mark == "break" { linebreak() }
    else { of }
  }
}
#let runs(of) = [#of.map(run).join()]

#let head-of(of, number) = {
  if number != "" { number; h(0.6em) }
  runs(of)
}

#let cell-of(one) = {
  set text(weight: "bold") if one.strong
  table.cell(colspan: one.span, runs(one.of))
}

#let table-of(one) = {
  set text(size: one.size * 1pt)
  set par(leading: 0.5em, spacing: 0.5em)
  let line = 0.4pt + rule
  let of = table(
    columns: one.widths.map(width => width * 1pt),
    align: (x, y) => if one.numeric.at(x, default: false) { right + top } else { left + top },
    inset: (x: ${cellGap_pt / 2}pt, y: 2.6pt),
    stroke: (x, y) => (bottom: if one.head.len() > 0 and y == 0 { 0.6pt + black } else { line }),
    ..if one.head.len() > 0 { (table.header(..one.head.map(cell-of)),) },
    ..one.rows.flatten().map(cell-of),
  )
  let caption = if one.label == "" and one.caption.len() == 0 { none } else {
    block(above: 1.1em, below: 0.5em, sticky: true, width: 100%,
      text(size: 8pt)[#if one.label != "" [*#one.label* ]#strong(runs(one.caption))])
  }
  let short = one.rows.len() <= 12
  let all = { placed(caption, one.id); of }
  if short { block(breakable: false, above: 0.9em, below: 1.1em, all) } else { all }
}

#let figure-of(one) = {
  let drawn = if one.svg != "" {
    image(bytes(one.svg), format: "svg", alt: one.alt,
      width: one.width_pt * 1pt, height: one.height_pt * 1pt)
  } else if one.picture != "" {
    image(one.picture, alt: one.alt, width: 100%)
  } else { emph[The notebook holds no drawing of this figure.] }
  let words = block(width: 100%, above: 0.5em,
    text(size: 8pt, fill: quiet)[#if one.label != "" { strong(text(fill: black, one.label)); " " }#one.caption])
  let whole = block(breakable: false, above: 1.1em, below: 1.3em, width: 100%, { drawn; words })
  placed(whole, one.id)
}

#let boxed(stroke, fill, body) = block(
  width: 100%, above: 0.9em, below: 0.9em, inset: (left: 8pt, rest: 5pt),
  stroke: (left: 2.5pt + stroke), fill: fill, body)

#let block-of(one) = {
  let kind = one.kind
  if kind == "heading" {
    placed(heading(level: calc.max(1, one.depth - 1), head-of(one.of, one.number)), one.id)
  } else if kind == "paragraph" {
    let role = one.role
    if role == "summary" { par(strong(runs(one.of))) }
    else if role == "counts" { par(text(fill: quiet, runs(one.of))) }
    else if role == "label" { block(sticky: true, strong(runs(one.of))) }
    else { par(runs(one.of)) }
  } else if kind == "list" {
    let items = one.items.map(item => [#item.map(block-of).join()])
    if one.ordered { enum(..items) } else { list(..items) }
  } else if kind == "table" {
    if one.turned { page(flipped: true, table-of(one)) } else { table-of(one) }
  } else if kind == "figure" { figure-of(one) }
  else if kind == "caution" {
    let body = one.sentences.map(said => par[#strong[Caution.] #runs(said)]).join()
    placed(boxed(warn, rgb("#fdf5e6"), text(size: 8.4pt, body)), one.id)
  } else if kind == "decision" { boxed(accent, rgb("#f4f5f6"), text(size: 8.6pt, runs(one.of))) }
  else if kind == "preformatted" {
    block(width: 100%, fill: rgb("#f4f5f6"), inset: 5pt, text(size: 7.5pt,
      one.text.split("\n").join(linebreak())))
  } else if kind == "framed" {
    boxed(if one.role == "error" { rgb("#a3262a") } else { rule }, none, [#one.blocks.map(block-of).join()])
  } else if kind == "title-block" {
    set text(size: 8.4pt)
    grid(columns: (58pt, 1fr, 58pt, 1fr), row-gutter: 5pt, column-gutter: 8pt,
      ..one.rows.map(row => (text(fill: quiet, runs(row.at(0))), runs(row.at(1, default: ())))).flatten())
  } else { line(length: 100%, stroke: 0.5pt + rule) }
}

#show heading: it => block(sticky: true, above: 1.5em, below: 0.7em, it.body)
#show heading.where(level: 1): set text(size: 13.5pt)
#show heading.where(level: 2): set text(size: 11pt)
#show heading.where(level: 3): set text(size: 9.6pt)

#let section-here() = {
  let before = query(heading.where(level: 1)).filter(one => one.location().page() <= here().page())
  if before.len() == 0 { none } else { before.last().body }
}

#set page(
  width: ${page.width}pt, height: ${page.height}pt,
  margin: (x: ${page.side}pt, top: ${page.top}pt, bottom: ${page.foot}pt),
  header: context {
    set text(size: 7.5pt, fill: quiet)
    if here().page() > 1 {
      grid(columns: (1fr, 1fr), data.head, align(right, section-here()))
      v(-4pt)
      line(length: 100%, stroke: 0.4pt + rule)
    }
  },
  footer: context {
    set text(size: 7.5pt, fill: quiet)
    grid(columns: (1fr, auto), data.foot,
      [page #counter(page).display() of #counter(page).final().first()])
  },
)

#block(below: 0.9em, text(size: 18pt, weight: "bold", data.title))
#data.titleBlock.map(block-of).join()
#line(length: 100%, stroke: 0.8pt)
#if data.brief.len() > 0 {
  placed(heading(level: 1)[In brief], "in-brief")
  for one in data.brief { block-of(one) }
}
#if data.contents {
  pagebreak(weak: true)
  heading(level: 1, outlined: false)[Contents]
  set text(size: 8.4pt)
  outline(title: none, depth: 2, indent: 1.2em)
  if data.figures.len() > 0 {
    heading(level: 1, outlined: false)[Figures]
    for one in data.figures {
      block(above: 0.55em, below: 0.55em, link(label(one.id), grid(columns: (52pt, 1fr, auto), column-gutter: 4pt,
        one.label, one.title, context [#locate(label(one.id)).page()])))
    }
  }
}
#if data.contents { pagebreak(weak: true) }
#for one in data.intro { block-of(one) }
#for one in data.body { block-of(one) }
#for annex in data.annexes {
  pagebreak(weak: true)
  placed(heading(level: 1, annex.heading), annex.id)
  for one in annex.blocks { block-of(one) }
}
`;
