import { type Format, formatFor } from '../../src/formats/index.js';

/** The stripped bytes, or the code of the reason why not. */
export function stripped(bytes: Uint8Array): Buffer | string {
  const outcome = formatOf(bytes).strip(bytes);
  if (outcome.kind !== 'kept') return outcome.reason.code;
  return Buffer.concat(outcome.value.parts.map((part) => part.bytes));
}

export function strippedBytes(bytes: Uint8Array): Buffer {
  const result = stripped(bytes);
  if (typeof result === 'string') throw new Error(`held: ${result}`);
  return result;
}

export function notesOf(bytes: Uint8Array): string[] {
  const outcome = formatOf(bytes).strip(bytes);
  return outcome.kind === 'kept' ? outcome.value.notes : [];
}

export function formatOf(bytes: Uint8Array): Format {
  const format = formatFor(bytes);
  if (!format || !('strip' in format)) throw new Error('not a format that is taken in');
  return format;
}
