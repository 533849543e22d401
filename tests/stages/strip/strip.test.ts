import { describe, expect, test } from 'vitest';
import type { IdentifyingString, PictureFacts } from '../../../src/core/picture-facts.js';
import { identify } from '../../../src/stages/identify/index.js';
import { strip } from '../../../src/stages/strip/index.js';
import { drawColour } from '../../fixtures/drawn-pixels.js';
import { afterStart, insertAt, segment, segmentsOf } from '../../fixtures/jpeg-pieces.js';
import { holdsMarker, MARKER } from '../../fixtures/markers.js';
import { greyFields, makeTiff } from '../../fixtures/tiff-pieces.js';

const jpeg = await drawColour().jpeg().toBuffer();

async function factsOf(bytes: Uint8Array, extra: IdentifyingString[] = []): Promise<PictureFacts> {
  const outcome = await identify(bytes, 'a.jpg');
  if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);
  return { ...outcome.value, identifying: [...outcome.value.identifying, ...extra] };
}

const person = (value: string): IdentifyingString => ({ kind: 'person-name', field: 'EXIF', value });

describe('strip', () => {
  test('gives bytes without metadata and says what was removed', async () => {
    const file = afterStart(jpeg, segment(0xfe, `Patient: ${MARKER}`));
    const outcome = await strip(file, await factsOf(file));
    expect(outcome).toMatchObject({ kind: 'kept', value: { removed: { comment: 1 }, notes: [] } });
    if (outcome.kind === 'kept') expect(holdsMarker(outcome.value.bytes)).toBe(false);
  });

  test('cuts what hides behind the last block of the picture data', async () => {
    const file = insertAt(jpeg, segmentsOf(jpeg).at(-1)!.at, Buffer.from(MARKER));
    const outcome = await strip(file, await factsOf(file));
    expect(outcome).toMatchObject({ kind: 'kept', value: { removed: { 'after-the-picture-data': 1 } } });
    if (outcome.kind === 'kept') expect(holdsMarker(outcome.value.bytes)).toBe(false);
  });

  test.each(['latin1', 'utf8', 'utf16le', 'utf16be'])(
    'holds a picture whose pixel bytes spell an identifying string in %s, telling the kind and not the value',
    async (coding) => {
      const name = 'Rowan Tëstcase';
      const little = Buffer.from(name, coding === 'utf16be' ? 'utf16le' : (coding as BufferEncoding));
      const bytes = coding === 'utf16be' ? Buffer.from(little).swap16() : little;
      const file = makeTiff([greyFields(bytes.length, 3)], Buffer.concat([bytes, bytes, bytes]));
      const outcome = await strip(file, await factsOf(file, [person(name)]));
      expect(outcome).toEqual({ kind: 'held', reason: { code: 'metadata-left', kinds: ['person-name'] } });
      expect(JSON.stringify(outcome)).not.toContain('Rowan');
      const clean = await strip(file, await factsOf(file, [person('Somebody Else')]));
      expect(clean.kind).toBe('kept');
    },
  );

  test('searches for each part of a name', async () => {
    const bytes = Buffer.from('....Testcase....');
    const file = makeTiff([greyFields(bytes.length, 1)], bytes);
    expect((await strip(file, await factsOf(file, [person('TESTER^Testcase')]))).kind).toBe('held');
  });

  test('does not hold a picture for a word that every file of its format holds', async () => {
    const cmyk = await drawColour().toColourspace('cmyk').jpeg().toBuffer();
    expect(cmyk.includes('Adobe')).toBe(true);
    const words = ['Adobe', 'JFIF', 'RIFF'].map(
      (value): IdentifyingString => ({ kind: 'other', field: 'EXIF', value }),
    );
    expect((await strip(cmyk, await factsOf(cmyk, words))).kind).toBe('kept');
  });

  test('holds a file that is not the format its facts name', async () => {
    const facts = await factsOf(jpeg);
    expect((await strip(await drawColour().png().toBuffer(), facts)).kind).toBe('held');
  });

  test('holds a damaged file and leaves its input alone', async () => {
    const copy = Buffer.from(jpeg);
    expect((await strip(jpeg.subarray(0, -30), await factsOf(jpeg))).kind).toBe('held');
    await strip(jpeg, await factsOf(jpeg));
    expect(jpeg.equals(copy)).toBe(true);
  });
});
