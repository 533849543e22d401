import type { Outcome } from '../../src/core/outcome.js';
import type { StrippedParts } from '../../src/formats/format.js';
import { type Format, formatFor } from '../../src/formats/index.js';

/** The stripped bytes, or the code of the reason why not. For formats that answer at once. */
export function stripped(bytes: Uint8Array): Buffer | string {
  const outcome = formatOf(bytes).strip(bytes);
  if (outcome instanceof Promise) throw new Error('this format answers later');
  return joined(outcome);
}

/** The same for any format. */
export const strippedLater = async (bytes: Uint8Array): Promise<Buffer | string> =>
  joined(await formatOf(bytes).strip(bytes));

function joined(outcome: Outcome<StrippedParts>): Buffer | string {
  if (outcome.kind !== 'kept') return outcome.reason.code;
  return Buffer.concat(outcome.value.parts.map((part) => part.bytes));
}

const orThrow = (result: Buffer | string): Buffer => {
  if (typeof result === 'string') throw new Error(`held: ${result}`);
  return result;
};

export const strippedBytes = (bytes: Uint8Array): Buffer => orThrow(stripped(bytes));
export const strippedBytesLater = async (bytes: Uint8Array): Promise<Buffer> =>
  orThrow(await strippedLater(bytes));

/** What is told about a file: by looking at it, and by stripping it. */
export function notesOf(bytes: Uint8Array): string[] {
  const [surveyed, outcome] = [formatOf(bytes).survey(bytes), formatOf(bytes).strip(bytes)];
  if (outcome instanceof Promise) throw new Error('this format answers later');
  return [surveyed, outcome].flatMap((one) => (one.kind === 'kept' ? one.value.notes : []));
}

export function formatOf(bytes: Uint8Array): Format {
  const format = formatFor(bytes);
  if (!format || !('strip' in format)) throw new Error('not a format that is taken in');
  return format;
}
