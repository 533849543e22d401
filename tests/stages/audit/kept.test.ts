import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { kindsOf, read, reader, TERMS } from './given/read.js';

const STILL = await sharp({ create: { width: 64, height: 48, channels: 3, background: '#446688' } })
  .png()
  .toBuffer();

const kinds = async (text: string, kept: string[]): Promise<string[]> =>
  kindsOf(await read(STILL, TERMS, reader([{ text }]), kept));

describe('a text in a picture that a person keeps', () => {
  it('is no hit, whatever kind of text it is', async () => {
    expect(await kinds('LOT 20834512', [])).toContain('text-in-picture');
    expect(await kinds('LOT 20834512', ['LOT 20834512'])).toEqual([]);
    expect(await kinds('+44 20 7946 0123', ['+44 20 7946 0123'])).toEqual([]);
  });

  it('is a hit all the same when it is known of the patient', async () => {
    expect(await kinds('Rowan Testcase', ['Rowan Testcase'])).toEqual(['patient-name']);
    expect(await kinds('11.02.2026', ['11.02.2026'])).toEqual(['visit-date']);
  });
});
