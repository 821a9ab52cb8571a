/** A combining mark that is not seen where it is shown, and is allowed within a name. */
const mark = "\u034f";

/** Another name that looks the same; marked several times, further ones. */
export function marked(name: string): string {
  return name + mark;
}

/** True for a name that only the session gives. */
export function isMarked(name: string): boolean {
  return name.endsWith(mark);
}

const markedName = /([\p{ID_Start}$_][\p{ID_Continue}$]*?)\u034f+(?![\p{ID_Continue}$])/gu;

/** A text with the names as cells write them: V8's messages speak of the session's. */
export function asWritten(text: string): string {
  return text.includes(mark) ? text.replace(markedName, "$1") : text;
}

/** A text about types, in which a declaration that has been made anew since is called so. */
export function earlierNamed(text: string): string {
  return text.includes(mark) ? text.replace(markedName, "earlier $1") : text;
}
