/** Numbers as people type them: a decimal comma is what half the world uses. */

/** The number in a text; null for an empty text; NaN for what is no number. */
export function typedNumber(text: string): number | null {
  const trimmed = text.trim();
  if (trimmed === '') return null;
  return Number(trimmed.replace(',', '.').replace('−', '-'));
}

/** A number as text for a field: at most `decimals` places, no trailing zeros; empty for null. */
export function fieldText(value: number | null, decimals: number): string {
  return value === null ? '' : String(Number(value.toFixed(decimals)));
}
