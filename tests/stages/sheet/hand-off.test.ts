import { describe, expect, it } from 'vitest';
import { settingsSchema } from '../../../src/core/settings.js';
import { drawSheet, planSheet, readTemplate } from '../../../src/stages/sheet/index.js';
import type { CaseRecord } from '../../../src/trade/case-record.js';
import { fonts } from './given/fonts.js';
import { readPages } from './given/pdf-reader.js';
import { course, record } from './given/records.js';
import { drawn } from './given/sheets.js';

/** Words of a sheet that holds one block only. */
async function textOf(block: string, given: CaseRecord): Promise<string> {
  const read = readTemplate(`template: one\naudience: referrer\nblocks:\n  - ${block}\n`);
  if (!read.ok) throw new Error(JSON.stringify(read.errors));
  const planned = await planSheet({
    template: read.template,
    record: given,
    shareCode: '9VTC4H',
    settings: settingsSchema.parse({}),
    fonts,
  });
  if (!planned.ok) throw new Error(planned.problems.join());
  return words(await drawSheet(planned.plan, new Map()));
}

const words = async (pdf: Uint8Array): Promise<string> =>
  (await readPages(pdf))
    .flatMap(({ texts }) => texts.map(({ text }) => text))
    .join(' ')
    .replace(/\s+/g, ' ');

const interim = record([], {
  visits: [{ visit: 1, day: 0, year: 2026, state: 'interim', revision: 1 }],
  handoff: { ...course().handoff, next: 'filling', due: '2 weeks' },
});

describe('the hand-off', () => {
  it('shows everything by itself, and what nobody recorded as such', async () => {
    const text = await textOf('{block: hand-off, heading: For the restoring dentist}', record([]));
    for (const part of [
      'For the restoring dentist',
      'Caries Removed',
      'Orifice barrier Bonded',
      'Temporary Glass ionomer',
      'In the chamber Not recorded',
      'Time limit Within 4 weeks of visit 2',
      'Restored by The referring dentist',
      'Mishaps None recorded',
    ])
      expect(text).toContain(part);
  });

  it('says beside the answer only what the answer does not say', async () => {
    const text = await textOf('{block: hand-off, pick: rest}', record([]));
    expect(text).toContain('Caries Removed Margins Sound Share code');
    expect(await textOf('{block: hand-off, pick: rest}', interim)).toContain('Restored by The referring');
  });

  it('of an unfinished visit names the next step and when it is due', async () => {
    const text = await textOf('{block: hand-off}', interim);
    expect(text).toContain('Next step Filling');
    expect(text).toContain('Due Within 2 weeks of the visit');
  });

  it('stands as one line under the visits, and says no fact of the answer twice', async () => {
    const text = await words(await drawn(record([])));
    expect(text).toContain('Caries: removed. Margins: sound.');
    for (const fact of ['cuspal coverage', 'glass ionomer', 'we recall', 'none recorded'])
      expect(text.toLowerCase().split(fact)).toHaveLength(2);
  });

  it('keeps a word in capitals as it is', async () => {
    const handoff = { ...course().handoff, margins: 'MTA at the mesial', caries: 'IRM below' };
    expect(await words(await drawn(record([], { handoff })))).toContain(
      'Caries: IRM below. Margins: MTA at the mesial.',
    );
  });
});
