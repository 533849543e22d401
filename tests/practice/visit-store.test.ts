import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  clearTmp,
  listHeld,
  listVisits,
  loadVisit,
  saveHeld,
  saveVisit,
  settleHeld,
} from '../../src/practice/index.js';
import { codeOf, freshPractice, keptValue } from './scratch.js';

const PICTURE = Buffer.from('picture');

describe('visits and holds', () => {
  it('come back as filed, by id, and only when filed to the end', async () => {
    const practice = await freshPractice();
    keptValue(
      await saveVisit(practice, 'B2', { sidecar: Buffer.from('tooth: 46\r\n'), pictures: [{ n: 1 }] }),
    );
    keptValue(await saveVisit(practice, 'A1', { sidecar: Buffer.from('a'), pictures: [] }));
    keptValue(
      await saveVisit(practice, 'B2', { sidecar: Buffer.from('tooth: 47\r\n'), pictures: [{ n: 2 }] }),
    );
    const visits = keptValue(await listVisits(practice));
    expect(visits.map(({ id }) => id)).toEqual(['A1', 'B2']);
    expect(visits[1]).toEqual({
      id: 'B2',
      sidecar: Buffer.from('tooth: 47\r\n'),
      pictures: [{ n: 2 }],
      matches: true,
    });
    expect(keptValue(await loadVisit(practice, 'none'))).toBeNull();
    await expect(saveVisit(practice, '../x', { sidecar: PICTURE, pictures: [] })).rejects.toThrow(TypeError);
  });

  it('show when a kill came between the pictures and the sidecar', async () => {
    const practice = await freshPractice();
    keptValue(await saveVisit(practice, 'A1', { sidecar: Buffer.from('a'), pictures: [] }));
    writeFileSync(join(practice.paths.visits, 'A1/visit.yaml'), 'b');
    expect(keptValue(await loadVisit(practice, 'A1'))?.matches).toBe(false);
  });

  it('spoil the list when damaged, rather than being left out of it', async () => {
    const practice = await freshPractice();
    keptValue(await saveVisit(practice, 'A1', { sidecar: Buffer.from('a'), pictures: [] }));
    writeFileSync(join(practice.paths.visits, 'A1/pictures.json'), '{');
    expect(codeOf(await listVisits(practice))).toBe('ledger-damaged');
    writeFileSync(join(practice.paths.held, 'x.json'), '{');
    expect(codeOf(await listHeld(practice))).toBe('ledger-damaged');
  });

  it('are held until settled, once an id', async () => {
    const practice = await freshPractice();
    keptValue(await saveHeld(practice, 'b', { folder: 'room 2', reason: 'no-sidecar' }));
    keptValue(await saveHeld(practice, 'a', { folder: 'room 1' }));
    keptValue(await saveHeld(practice, 'b', { folder: 'room 2', reason: 'other-patient' }));
    expect(keptValue(await listHeld(practice))).toEqual([
      { id: 'a', hold: { folder: 'room 1' } },
      { id: 'b', hold: { folder: 'room 2', reason: 'other-patient' } },
    ]);
    keptValue(await settleHeld(practice, 'b'));
    keptValue(await settleHeld(practice, 'b'));
    expect(keptValue(await listHeld(practice)).map(({ id }) => id)).toEqual(['a']);
  });

  it('leave nothing in private/tmp once it is cleared', async () => {
    const practice = await freshPractice();
    writeFileSync(join(practice.paths.tmp, 'a'), 'a');
    keptValue(await clearTmp(practice));
    expect(readdirSync(practice.paths.tmp)).toEqual([]);
  });
});
