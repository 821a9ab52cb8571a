import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { NotebookFault } from "../../../kernels/notebook/notebook-fault.js";
import { notebookText } from "../../../kernels/notebook/notebook-text.js";
import { parseNotebook, readNotebook } from "../../../kernels/notebook/read-notebook.js";
import { repository } from "../support/cells.js";
import { code, notebook, text } from "../support/notebooks.js";

function faultsOf(given: unknown): readonly string[] {
  try {
    parseNotebook(typeof given === "string" ? given : JSON.stringify(given), "a.ipynb");
  } catch (error) {
    if (error instanceof NotebookFault) return error.faults;
    throw error;
  }
  return [];
}

const plainCode = {
  cell_type: "code",
  metadata: {},
  source: "1",
  outputs: [],
  execution_count: null,
};

describe("a notebook's text", () => {
  it("is written as Jupyter writes it: sorted keys, one space, lists of lines, a newline", () => {
    const shown = {
      ...code("b", "let a = 1;\na"),
      execution_count: 1,
      outputs: [
        {
          output_type: "execute_result" as const,
          execution_count: 1,
          data: {
            "text/plain": "1",
            "image/svg+xml": "<svg>\n</svg>",
            "image/png": "AA\n",
            "application/vnd.vegalite.v5+json": { z: "a\nb", a: [] },
          },
          metadata: {},
        },
      ],
    };
    // The same bytes as Python's json.dumps(…, sort_keys=True, indent=1, ensure_ascii=False) of
    // the notebook after nbformat's split_lines.
    expect(notebookText(notebook(text("a", "# Wend\nü"), shown))).toBe(`{
 "cells": [
  {
   "cell_type": "markdown",
   "id": "a",
   "metadata": {},
   "source": [
    "# Wend\\n",
    "ü"
   ]
  },
  {
   "cell_type": "code",
   "execution_count": 1,
   "id": "b",
   "metadata": {},
   "outputs": [
    {
     "data": {
      "application/vnd.vegalite.v5+json": {
       "a": [],
       "z": "a\\nb"
      },
      "image/png": "AA\\n",
      "image/svg+xml": [
       "<svg>\\n",
       "</svg>"
      ],
      "text/plain": [
       "1"
      ]
     },
     "execution_count": 1,
     "metadata": {},
     "output_type": "execute_result"
    }
   ],
   "source": [
    "let a = 1;\\n",
    "a"
   ]
  }
 ],
 "metadata": {},
 "nbformat": 4,
 "nbformat_minor": 5
}
`);
  });

  it("is read back as what was written", () => {
    const stream = { output_type: "stream" as const, name: "stdout" as const, text: "a\nb\n" };
    const error = { output_type: "error" as const, ename: "E", evalue: "v", traceback: ["E: v"] };
    const written = notebook(text("a", ""), {
      ...code("b", "1", "parameters"),
      execution_count: 3,
      outputs: [stream, error],
    });
    expect(parseNotebook(notebookText(written), "a.ipynb")).toEqual(written);
  });

  it("holds for the packaged notebook", async () => {
    const file = join(repository, "notebooks/appendix.ipynb");
    const read = await readNotebook(file);
    expect(parseNotebook(notebookText(read), file)).toEqual(read);
    expect(JSON.parse(notebookText(read))).toEqual(JSON.parse(await readFile(file, "utf8")));
  });
});

describe("reading a notebook", () => {
  it("lifts the formats before 4.5, whose cells have no ids", () => {
    const old = { nbformat: 4, nbformat_minor: 2, metadata: {}, cells: [plainCode, plainCode] };
    const { nbformat_minor, cells } = parseNotebook(JSON.stringify(old), "a.ipynb");
    expect(nbformat_minor).toBe(5);
    expect(cells.map((cell) => cell.id)).toEqual(["cell-1", "cell-2"]);
  });

  it("names the file that cannot be read", async () => {
    await expect(readNotebook("nowhere.ipynb")).rejects.toThrow(
      "nowhere.ipynb: cannot be read (ENOENT)",
    );
  });

  const head = { nbformat: 4, nbformat_minor: 5, metadata: {} };
  const good = { ...plainCode, id: "a" };
  const bad: readonly (readonly [string, unknown, string])[] = [
    ["what is not JSON", "{", "is not JSON"],
    ["an empty file", "", "is not JSON"],
    ["a list", [], "the notebook must be object"],
    ["another major format", { ...head, nbformat: 3, cells: [] }, "/nbformat must be equal to"],
    ["no cells", head, "must have required property 'cells'"],
    [
      "a cell without id",
      { ...head, cells: [plainCode] },
      "/cells/0 must have required property 'id'",
    ],
    ["an id with a space", { ...head, cells: [{ ...good, id: "a b" }] }, "/cells/0/id must match"],
    [
      "a code cell without outputs",
      { ...head, cells: [{ ...good, outputs: undefined }] },
      "'outputs'",
    ],
    ["an unknown kind of cell", { ...head, cells: [{ ...good, cell_type: "poem" }] }, "cell_type"],
    [
      "an output of unknown kind",
      { ...head, cells: [{ ...good, outputs: [{ output_type: "smell" }] }] },
      "/cells/0/outputs/0",
    ],
    ["the same id twice", { ...head, cells: [good, good] }, '"a" is there twice'],
  ];
  for (const [what, given, expected] of bad) {
    it(`refuses ${what}`, () => {
      const faults = faultsOf(given);
      expect(faults.join("\n")).toContain(expected);
      for (const fault of faults) expect(fault).toMatch(/^a\.ipynb: /);
    });
  }
});
