import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { Application, PageEvent } from "typedoc";
import { accessible } from "./accessible.js";
import { repository } from "./repository.js";

/** Makes one folder of HTML from the pages and the library's documentation comments. */
export async function writeSite(pages: string, out: string): Promise<void> {
  const { version } = JSON.parse(await readFile(join(repository, "package.json"), "utf8"));
  const app = await Application.bootstrap({
    name: `Banquette ${version}`,
    entryPoints: [join(repository, "lib/index.ts")],
    tsconfig: join(repository, "tsconfig.json"),
    readme: join(pages, "index.md"),
    projectDocuments: ["tutorial", "steps", "reference"].map((one) => join(pages, one, "*.md")),
    customCss: join(repository, "docs/site.css"),
    // The same bytes wherever and whenever it is made.
    disableGit: true,
    disableSources: true,
    hideGenerator: true,
    githubPages: false,
    sortEntryPoints: false,
    groupOrder: ["Tutorial", "The steps", "Reference", "*"],
    sort: ["kind", "alphabetical-ignoring-documents"],
    navigation: { includeGroups: true, includeCategories: false },
    excludeInternal: true,
    excludePrivate: true,
    lightHighlightTheme: "github-light-high-contrast",
    darkHighlightTheme: "github-dark-high-contrast",
    validation: { notExported: false, invalidLink: true, invalidPath: true, notDocumented: false },
    logLevel: "Warn",
  });
  app.renderer.on(PageEvent.END, (page: PageEvent) => {
    page.contents = accessible(page.contents ?? "");
  });
  const project = await app.convert();
  if (project === undefined) throw new Error("the library does not compile");
  app.validate(project);
  await app.generateDocs(project, out);
  if (app.logger.hasErrors()) throw new Error("the site has errors");
}
