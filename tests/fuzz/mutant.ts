import { crc32 } from '../../src/formats/png/crc.js';
import { Chance } from './chance.js';
import { lieAboutSize } from './dimensions.js';
import { MUTATORS } from './mutators.js';
import { KINDS, type Seed, type SeedKind } from './seeds.js';

export interface Mutant {
  number: number;
  kind: SeedKind;
  /** The sound file it was made from. */
  from: string;
  extension: string;
  bytes: Buffer;
}

/** More than any picture needs to show a fault. */
const MOST_BYTES = 3_000_000;

/** The file of a number: one to four changes to a sound one, the kinds in turn. The same number gives the same bytes. */
export function mutantOf(number: number, seeds: readonly Seed[], only: SeedKind | null = null): Mutant {
  const chance = new Chance(number);
  const kind = only ?? KINDS[number % KINDS.length]!;
  const seed = chance.oneOf(seeds.filter((one) => one.kind === kind));
  let bytes = seed.bytes;
  for (let left = chance.oneOf([1, 1, 1, 2, 3, 4]); left > 0; left--) {
    // Mostly of its own kind: such a piece is understood further than any other.
    const others = chance.once(4) ? seeds : seeds.filter((one) => one.kind === kind);
    const other = chance.oneOf(others).bytes;
    bytes = chance.once(6) ? lieAboutSize(bytes, chance) : chance.oneOf(MUTATORS)(bytes, chance, other);
    if (bytes.length > MOST_BYTES) bytes = bytes.subarray(0, MOST_BYTES);
  }
  if (kind === 'PNG' && chance.once(2)) bytes = withChecksums(bytes);
  return { number, kind, from: seed.name, extension: seed.extension, bytes };
}

/** A PNG whose checksums fit again, so that what was changed is looked at. */
function withChecksums(png: Buffer): Buffer {
  const mended = Buffer.from(png);
  for (let at = 8; at + 12 <= mended.length; ) {
    const end = at + 12 + mended.readUInt32BE(at);
    if (end > mended.length) break;
    mended.writeUInt32BE(crc32(mended.subarray(at + 4, end - 4)), end - 4);
    at = end;
  }
  return mended;
}
