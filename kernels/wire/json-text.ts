/**
 * A value as JSON. Numbers that JSON has no word for become null; whole numbers beyond 2^53 (bigint)
 * become texts; what cannot be written at all becomes a text that says so.
 */
export function jsonText(value: Readonly<Record<string, unknown>>): string {
  try {
    return JSON.stringify(value, (_, one: unknown) =>
      typeof one === "bigint" ? String(one) : one,
    );
  } catch (error) {
    if (!("data" in value)) throw error;
    const text = `This value cannot be sent as JSON: ${(error as Error).message}`;
    return jsonText({ ...value, data: { "text/plain": text } });
  }
}
