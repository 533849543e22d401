/**
 * Strip: bytes and facts come in; leaves the same picture data without metadata. The result is read a second time
 * by other code and searched for every string the original was identified by; whatever is found holds the picture.
 * Reasons carry kinds of what was found, never values.
 */
import { held, kept, type Outcome } from '../../core/outcome.js';
import type { PictureFacts } from '../../core/picture-facts.js';
import type { StripOptions } from '../../formats/format.js';
import { formatFor } from '../../formats/index.js';
import { findStrings } from './find-strings.js';

export interface Stripped {
  bytes: Uint8Array;
  /** Kinds of what was removed, and how many. */
  removed: Record<string, number>;
  notes: string[];
}

export async function strip(
  bytes: Uint8Array,
  facts: PictureFacts,
  options: StripOptions = {},
): Promise<Outcome<Stripped>> {
  const format = formatFor(bytes);
  if (!format || !('strip' in format) || format.name !== facts.format)
    return held({ code: 'unknown-format' });
  const stripped = await format.strip(bytes, options);
  if (stripped.kind !== 'kept') return stripped;
  const { parts, removed, notes, searched } = stripped.value;
  const whole = Buffer.concat(parts.map((part) => part.bytes));
  const trimmed = format.trim?.(whole) ?? kept(whole);
  if (trimmed.kind !== 'kept') return trimmed;
  const output = Buffer.from(trimmed.value.buffer, trimmed.value.byteOffset, trimmed.value.byteLength);
  const around = Buffer.concat(parts.filter(({ picture }) => !picture).map((part) => part.bytes));
  if (output.length < whole.length) removed['after-the-picture-data'] = 1;
  const where = searched ? Buffer.from(searched) : null;
  const found = findStrings(facts.identifying, where ?? output, where ?? around);
  const kinds = [...format.leftovers(output), ...found];
  if (kinds.length > 0) return held({ code: 'metadata-left', kinds: [...new Set(kinds)] });
  return kept({ bytes: output, removed, notes });
}
