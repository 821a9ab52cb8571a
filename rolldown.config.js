// Puts the built library together: Node takes 0.8 ms for every module that it opens, and the library
// has a thousand. Its door and what threads load by its place stay where they are; what they share
// stands in a few files of `dist/lib/shared`. Done after every build: `tsc` writes the door anew.
import { readdirSync, rmSync } from "node:fs";
import { dirname, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";

const folder = fileURLToPath(new URL("./dist/lib/", import.meta.url));
const entries = [
  "index",
  "step/threads/thread",
  "step/threads/drain",
  "sections/section-thread",
  "depth/posterior/draw-stations",
  "chain/robustness/alternative-thread",
];
const isPackage = (id) => !/^[./]/.test(id) && !id.startsWith(folder);
const asUrl = (path) => `./${path.split(sep).join("/")}`;

/** A module looks beside its own place, not beside the file that it has come into. */
const ownPlaces = {
  name: "own-places",
  transform: (code, id) =>
    code.replaceAll("import.meta.url", `ownPlace(${JSON.stringify(relative(folder, id))})`),
  renderChunk: (code, { fileName }) =>
    code.replaceAll(/\bownPlace\("(.*?)"\)/g, (_, place) => {
      const path = JSON.stringify(asUrl(relative(dirname(fileName), place)));
      return `new URL(${path}, import.meta.url).href`;
    }),
};

/** Files of an earlier build that nothing loads any more. */
const withoutLeftOver = {
  name: "without-left-over",
  writeBundle: (_, written) => {
    for (const name of readdirSync(`${folder}shared`)) {
      if (!(`shared/${name}` in written)) rmSync(`${folder}shared/${name}`);
    }
  },
};

export default {
  input: Object.fromEntries(entries.map((name) => [name, `${folder}${name}.js`])),
  platform: "node",
  external: isPackage,
  plugins: [ownPlaces, withoutLeftOver],
  output: {
    dir: folder,
    format: "esm",
    keepNames: true,
    entryFileNames: "[name].js",
    chunkFileNames: "shared/[name].js",
  },
};
