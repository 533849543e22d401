import { TextDecoder } from 'node:util';

/**
 * Texts of an object by its Specific Character Set (0008,0005): PS3.3, C.12.1.1.2, tables C.12-2 to C.12-5, in the
 * names of the WHATWG Encoding Standard. Sets of one byte are told apart by their last digits alone.
 */
const ENCODINGS: Record<string, string> = {
  '100': 'iso-8859-1',
  '101': 'iso-8859-2',
  '109': 'iso-8859-3',
  '110': 'iso-8859-4',
  '144': 'iso-8859-5',
  '127': 'iso-8859-6',
  '126': 'iso-8859-7',
  '138': 'iso-8859-8',
  '148': 'windows-1254',
  '203': 'iso-8859-15',
  '13': 'shift_jis',
  '166': 'windows-874',
  '192': 'utf-8',
  '149': 'euc-kr',
  '58': 'gb18030',
};

/** Decoders worth trying for one object: those it names first, then what files without a word are written in. */
export function decodersFor(characterSet: string): TextDecoder[] {
  const named = characterSet.split('\\').flatMap((term): string[] => {
    if (/^GB/.test(term.trim())) return ['gb18030'];
    // escapes to JIS X 0208 (ISO 2022 IR 87) are those of ISO-2022-JP
    if (/IR (?:87|159)$/.test(term.trim())) return ['iso-2022-jp'];
    const encoding = ENCODINGS[/IR (\d+)$/.exec(term.trim())?.[1] ?? ''];
    return encoding ? [encoding] : [];
  });
  const fallback = ['utf-8', 'windows-1252'];
  return [...new Set([...named, ...fallback])].map((name) => new TextDecoder(name, { fatal: true }));
}

/** The first reading without an unlawful byte; windows-1252 takes any. Escape sequences and padding are left out. */
export function readWith(decoders: readonly TextDecoder[], bytes: Uint8Array): string {
  for (const decoder of decoders) {
    try {
      const text = decoder.decode(bytes).replace(/\p{Cc}[$()-]+[A-Z@]/gu, '');
      return text.replace(/[\0 ]+$/, '').trim();
    } catch {
      // not written in this set
    }
  }
  return '';
}
