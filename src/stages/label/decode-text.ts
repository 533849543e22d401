/** Text of a file, or where and why it could not be read. Line and column are 1-based. */
export type Decoded =
  | { ok: true; text: string }
  | { ok: false; line: number; column: number; sentence: string };

/** A sidecar of a long visit has a few kilobytes; this is far above any of them. */
const LARGEST_BYTES = 1_000_000;

/**
 * UTF-8, or UTF-16 told by its mark or its zero bytes (YAML 1.2.2, chapter 5.2). The mark is dropped and every line
 * ends with a line feed, which keeps lines and columns as an editor shows them.
 */
export function decodeText(bytes: Uint8Array): Decoded {
  if (bytes.length > LARGEST_BYTES) {
    return refuse('The file is larger than 1 MB, which no sidecar is. Put the right file there.');
  }
  const encoding = encodingOf(bytes);
  const text = tryDecode(bytes, encoding);
  if (text === null) return badBytes(bytes, encoding);
  const clean = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  if (clean.trim() === '') {
    return refuse(EMPTY);
  }
  return { ok: true, text: clean };
}

export const EMPTY = 'The file is empty. Write at least tooth and images, or start from: scopeleaf draft.';

const refuse = (sentence: string, line = 1, column = 1): Decoded => ({ ok: false, line, column, sentence });

type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be';

function encodingOf(bytes: Uint8Array): Encoding {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  if (first === 0xfe && second === 0xff) return 'utf-16be';
  if (first === 0 && second !== 0 && bytes.length > 1) return 'utf-16be';
  if (second === 0 && first !== 0) return 'utf-16le';
  return 'utf-8';
}

function tryDecode(bytes: Uint8Array, encoding: Encoding): string | null {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

const RESAVE = 'Open the file in a text editor and save it as UTF-8.';

function badBytes(bytes: Uint8Array, encoding: Encoding): Decoded {
  if (encoding !== 'utf-8') return refuse(`The file is damaged UTF-16. ${RESAVE}`);
  let line = 1;
  for (let start = 0; start < bytes.length; line += 1) {
    const found = bytes.indexOf(0x0a, start);
    const end = found === -1 ? bytes.length : found;
    const part = bytes.subarray(start, end);
    if (tryDecode(part, 'utf-8') === null) {
      const column = new TextDecoder().decode(part).indexOf('\uFFFD') + 1;
      return refuse(
        `A character here is not UTF-8, as other encodings make it. ${RESAVE}`,
        line,
        Math.max(1, column),
      );
    }
    start = end + 1;
  }
  return refuse(RESAVE);
}
