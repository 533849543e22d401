/** A value as the bytes of a JSON file: two spaces, one closing line break. */
export const jsonBytes = (value: unknown): Uint8Array => Buffer.from(`${JSON.stringify(value, null, 2)}\n`);
