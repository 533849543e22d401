import type { Chance } from './chance.js';

/** Changes bytes; `other` is another sound file to take pieces from. The input stays as it is. */
export type Mutator = (bytes: Buffer, chance: Chance, other: Buffer) => Buffer;

/** Headers are small and picture data large: half of all changes go to the first bytes. */
const placeIn = (bytes: Buffer, chance: Chance): number =>
  chance.below(Math.max(1, chance.once(2) ? bytes.length : Math.min(bytes.length, 700)));

const joined = (...parts: Uint8Array[]): Buffer => Buffer.concat(parts);

const flipBits: Mutator = (bytes, chance) => {
  const changed = Buffer.from(bytes);
  for (let left = 1 + chance.below(16); left > 0 && changed.length > 0; left--) {
    const at = placeIn(changed, chance);
    changed[at] = changed[at]! ^ (1 << chance.below(8));
  }
  return changed;
};

const setBytes: Mutator = (bytes, chance) => {
  const changed = Buffer.from(bytes);
  for (let left = 1 + chance.below(8); left > 0 && changed.length > 0; left--)
    changed[placeIn(changed, chance)] = chance.oneOf([0, 0xff, 0x7f, 0x80, 1, chance.below(256)]);
  return changed;
};

const cut: Mutator = (bytes, chance) => bytes.subarray(0, chance.below(bytes.length + 1));

const cutOut: Mutator = (bytes, chance) => {
  const at = placeIn(bytes, chance);
  return joined(bytes.subarray(0, at), bytes.subarray(at + 1 + chance.below(64)));
};

/** A stretch, often a whole chunk or box, again and again. */
const repeat: Mutator = (bytes, chance) => {
  const at = placeIn(bytes, chance);
  const piece = bytes.subarray(at, at + 1 + chance.below(chance.once(2) ? 40 : 2000));
  const times = Math.min(
    chance.oneOf([1, 2, 5, 200, 20_000]),
    Math.ceil(1_000_000 / Math.max(1, piece.length)),
  );
  return joined(bytes.subarray(0, at), ...new Array<Buffer>(times).fill(piece), bytes.subarray(at));
};

const splice: Mutator = (bytes, chance, other) =>
  joined(bytes.subarray(0, placeIn(bytes, chance)), other.subarray(placeIn(other, chance)));

const insert: Mutator = (bytes, chance, other) => {
  const [at, from] = [placeIn(bytes, chance), placeIn(other, chance)];
  return joined(
    bytes.subarray(0, at),
    other.subarray(from, from + 1 + chance.below(3000)),
    bytes.subarray(at),
  );
};

const clear: Mutator = (bytes, chance) => {
  const changed = Buffer.from(bytes);
  const at = placeIn(changed, chance);
  return changed.fill(chance.oneOf([0, 0xff]), at, Math.min(changed.length, at + 1 + chance.below(300)));
};

/** Where lengths, counts and offsets stand, something else stands. */
const lieAboutLength: Mutator = (bytes, chance) => {
  const size = chance.oneOf([1, 2, 3, 4, 4, 4]);
  if (bytes.length < size + 1) return bytes;
  const changed = Buffer.from(bytes);
  for (let left = 1 + chance.below(3); left > 0; left--) {
    const at = Math.min(placeIn(changed, chance), changed.length - size);
    const big = chance.once(2);
    const told = big ? changed.readUIntBE(at, size) : changed.readUIntLE(at, size);
    const most = 2 ** (8 * size) - 1;
    const lie = chance.oneOf([
      0,
      1,
      most,
      most >> 1,
      told + 1,
      told - 1,
      told * 2,
      changed.length,
      changed.length - at,
    ]);
    const value = Math.max(0, Math.min(most, lie >>> 0));
    if (big) changed.writeUIntBE(value, at, size);
    else changed.writeUIntLE(value, at, size);
  }
  return changed;
};

const swap: Mutator = (bytes, chance) => {
  const [a, b] = [placeIn(bytes, chance), placeIn(bytes, chance)].sort((x, y) => x - y) as [number, number];
  const end = b + chance.below(Math.max(1, bytes.length - b));
  return joined(bytes.subarray(0, a), bytes.subarray(b, end), bytes.subarray(a, b), bytes.subarray(end));
};

export const MUTATORS: readonly Mutator[] = [
  flipBits,
  setBytes,
  cut,
  cutOut,
  repeat,
  splice,
  insert,
  clear,
  lieAboutLength,
  lieAboutLength,
  swap,
];
