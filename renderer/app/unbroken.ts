/** A number and its unit stay on one line, and so does ± with its number. */
export function unbroken(text: string): string {
  return text
    .replace(/(\d) (?=(?:%|°[CF]|K|A|psig?|kPa|barg?|min|s|h)(?:\W|$))/g, '$1\u00a0')
    .replace(/ ± /g, '\u00a0±\u00a0');
}
