/** What a cell can do, as `banquette kernel help` prints it. */
export const kernelHelp = `What a cell can do

Running
  A cell is TypeScript 5.9; its types are checked before it runs. Every name has one value in all
  cells, may be declared anew, and await works at the top. The value of a last expression is
  shown unless a semicolon follows it. What using declares is disposed of when the cell ends.
  import … from "banquette", from an installed package, or from a .ts, .js or .json file beside
  the notebook; a .ts file that has changed is loaded again.
  NAME? shows what is known of a name. An interrupt ends the cell and keeps all that it made;
  process.exit ends the cell only.

Lines at the top of a cell
  // unchecked       run in spite of type errors
  // no-notices      say nothing of what is out of date
  #| label: NAME     a name, and #| caption: TEXT a caption, for the appendix

Packages
  import { mean } from "NAME"; // install 2.1.0
      has npm install the package into the notebook's folder: this version, or without one the
      version in package.json there, else the latest. The exact version goes into package.json
      and package-lock.json. Scripts of packages do not run. banquette run and appendix install
      nothing and say what is missing.

Showing
  display(value, …)          outputs in the middle of a cell; gives a handle with update(value, …)
  clearOutput(wait?)         takes this cell's outputs away; with true, when the next one comes
  html, markdown, latex      a text as what it is
  svg(text, { alt })         a drawing
  image(bytes or path, { alt })  a PNG, JPEG, GIF or WebP image
  table(rows)                a list of objects, or a data frame; with { sortable: true } whoever
                             reads it sorts it
  vegaLite(spec)             a figure; a specification shows itself without it, too
  A MIME bundle, the bytes of an image and what has Symbol.for("Jupyter.display") show themselves.

Choosing
  const slope = slider({ label: "Slope", min: 1, max: 10, step: 0.5, value: 2 })
  const coils = select(["HCP", "VCP"], { label: "Coils", value: "HCP" })
      show a control; slope.value is what was chosen, await slope.next() waits for the next one,
      slope.onChange((value) => …) is told of each. In a run from top to bottom, and where nobody
      can choose, the value is the declared one.

Long work
  for (const one of progress(items)) …    a bar over a loop, of await items, too
  { progress: progress("Blocks") }        the same for a step's option
  Steps that take over a second draw one by themselves.
  await prompt("Depth? ", { password })   asks whoever runs the notebook

Notices
  A cell that uses a name made from what has been remade or changed since says so, and which
  cells to run again. A cell that adds to what its own earlier run changed says so at once. It
  cannot see changes within instances of packages' classes and in closures, single elements
  among very many, and what comes through files.

Debugging
  A front end's debugger sets breakpoints in cells, steps by their lines and shows what names
  hold, where a cell is paused and while one runs. An interrupt ends a paused cell.
  Front ends with subshells run a cell beside one that waits, and see the value of an expression
  that changes nothing while one computes.

Parameters
  In a cell tagged "parameters", banquette run NOTEBOOK --set name=value gives a name another
  value of its kind. papermill runs a notebook, but its -p, -f and -y write values in languages of
  which TypeScript is none: set them by banquette run, or change that cell.
`;
