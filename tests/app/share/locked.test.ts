import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { portsFor } from '../../../src/app/open-pictures.js';
import { protectPractice } from '../../../src/app/patients/protect.js';
import { reviewSheet } from '../../../src/app/review/index.js';
import { listShares } from '../../../src/app/share/list.js';
import { unlockWithKeyFile } from '../../../src/practice/index.js';
import { freshFolder, freshPractice, reopen } from '../small-practice.js';
import { codesOf, quietPorts, STILL, share, takeIn } from './given.js';

const TO = 'Quillfeather Clinic';

describe('a practice whose private records are encrypted', () => {
  it('refuses to share, review or list without the key, and writes no recipient in clear with it', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const face = '{file: b.jpg, stage: pre-op, view: intraoral}';
    const limited = 'answers: [{code: face, file: b.jpg, by: AB, why: lips, audience: [referrer]}]';
    const code = await takeIn(practice, ports, { images: [STILL, face], more: [limited] });
    const path = join(await freshFolder(), 'practice.key');
    await protectPractice(practice, ports, async () => ({ how: 'key-file', path }), true);

    const locked = await reopen(practice.root);
    const refused = await share(locked, ports, code);
    expect(codesOf(refused)).toEqual(['locked']);
    const wish = { template: 'referrer', by: 'AB', onLooks: () => undefined };
    expect(await reviewSheet(locked, ports, code, wish)).toEqual({ kind: 'locked' });
    expect(await listShares(locked)).toBe(null);
    expect(readdirSync(practice.paths.outbox)).toEqual([]);

    const opened = await unlockWithKeyFile(locked, path);
    if (!opened.ok) throw new Error('not unlocked');
    const report = await share(opened.practice, portsFor(opened.practice, ports), code, {
      to: TO,
      pictures: true,
    });
    expect(report).toMatchObject({ shared: true, reasons: [] });
    expect(report.files).toHaveLength(3);
    expect(report.coverSlip).toMatch(/\.age$/);
    expect((await listShares(opened.practice))?.map(({ to }) => to)).toEqual([TO]);
    for (const file of [practice.paths.register, practice.paths.reviews])
      expect(readFileSync(file, 'latin1')).not.toMatch(/Quillfeather|"AB"/);
  });
});
