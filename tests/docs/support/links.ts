// Links of a folder of HTML pages, each looked up in the folder.
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";

/** The HTML files of a folder, by path below it. */
export function pagesIn(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".html"))
    .sort();
}

/** Links that lead nowhere, as "page: link": to a file that is not there, or to no place in it. */
export function brokenLinks(folder: string): readonly string[] {
  const anchors = new Map<string, ReadonlySet<string>>();
  const anchorsOf = (file: string) => {
    const known = anchors.get(file) ?? idsIn(readFileSync(file, "utf8"));
    anchors.set(file, known);
    return known;
  };
  return pagesIn(folder).flatMap((page) => {
    const file = join(folder, page);
    return linksIn(readFileSync(file, "utf8"))
      .filter((link) => !leads(link, file, anchorsOf))
      .map((link) => `${page}: ${link}`);
  });
}

/** What a page would ask of a network: scripts, styles and pictures with an address. */
export function outsideParts(html: string): readonly string[] {
  return html.match(/<(?:script|img|link|iframe)[^>]+(?:src|href)="(?:https?:)?\/\/[^"]*"/g) ?? [];
}

function leads(
  link: string,
  from: string,
  anchorsOf: (file: string) => ReadonlySet<string>,
): boolean {
  if (/^(https?|mailto):/.test(link)) return true;
  const [path = "", anchor = ""] = link.split("#");
  const target = path === "" ? from : resolve(dirname(from), decodeURI(path));
  if (!existsSync(target) || !statSync(target).isFile()) return false;
  return anchor === "" || anchorsOf(target).has(decodeURIComponent(anchor));
}

function linksIn(html: string): readonly string[] {
  return [...html.matchAll(/\s(?:href|src)="([^"]*)"/g)].map(([, link = ""]) =>
    link.replaceAll("&amp;", "&"),
  );
}

function idsIn(html: string): ReadonlySet<string> {
  return new Set([...html.matchAll(/\sid="([^"]*)"/g)].map(([, id = ""]) => id));
}
