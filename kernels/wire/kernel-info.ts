import { readFileSync } from "node:fs";
import { type Content, protocolVersion } from "./messages.js";

const packageFile = new URL("../../../package.json", import.meta.url);

/** Content of `kernel_info_reply`. */
export function kernelInfo(): Content {
  const { version } = JSON.parse(readFileSync(packageFile, "utf8")) as { readonly version: string };
  return {
    status: "ok",
    protocol_version: protocolVersion,
    implementation: "banquette",
    implementation_version: version,
    language_info: {
      name: "typescript",
      version: process.versions.node,
      mimetype: "text/typescript",
      file_extension: ".ts",
      pygments_lexer: "typescript",
      // A name that the front ends of both generations look up; the classic one finds no MIME type.
      codemirror_mode: "typescript",
      nbconvert_exporter: "script",
    },
    banner: `Banquette ${version}: TypeScript on Node ${process.versions.node}`,
    debugger: true,
    help_links: [
      { text: "TypeScript handbook", url: "https://www.typescriptlang.org/docs/handbook/" },
      { text: "Node.js", url: "https://nodejs.org/docs/latest-v20.x/api/" },
      { text: "Vega-Lite", url: "https://vega.github.io/vega-lite/docs/" },
    ],
    supported_features: ["debugger", "kernel subshells"],
  };
}
