/** A run of text within a paragraph, a cell or a caption. */
export type Inline = string | Marked | Link | Picture | Break;

/** What a run of text is; "missing" is something that nobody stated, "source" where it is published. */
export type Mark = "strong" | "emphasis" | "code" | "small" | "sub" | "sup" | "missing" | "source";

export interface Marked {
  readonly kind: "marked";
  readonly mark: Mark;
  readonly content: readonly Inline[];
}

export interface Link {
  readonly kind: "link";
  /** Web, mail, a file beside the document, or "#" and the id of a place in it. */
  readonly to: string;
  readonly content: readonly Inline[];
}

export interface Picture {
  readonly kind: "picture";
  /** A data address: the picture travels inside the document. */
  readonly source: string;
  readonly alt: string;
}

export interface Break {
  readonly kind: "break";
}

/** The words of a content without its marks. */
export function plainText(content: readonly Inline[]): string {
  return content.map(textOf).join("");
}

function textOf(inline: Inline): string {
  if (typeof inline === "string") return inline;
  if (inline.kind === "picture") return inline.alt;
  return inline.kind === "break" ? " " : plainText(inline.content);
}
