/** True for a link that a reader may follow: web, mail, a place in the page, a file beside it. */
export function isPlainLink(href: string): boolean {
  const link = href.trim();
  if (/^(https?:\/\/|mailto:|#)/i.test(link)) return true;
  return !link.startsWith("//") && !link.startsWith("\\") && !/^[^/?#]*:/.test(link) && link !== "";
}

/** True for a picture that travels inside the page. */
export function isInlinePicture(source: string): boolean {
  return /^data:image\/(png|jpeg|gif|webp);base64,[A-Za-z0-9+/=\s]*$/.test(source.trim());
}
