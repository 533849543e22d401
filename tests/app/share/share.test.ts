import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { reviewSheet } from '../../../src/app/review/index.js';
import { listShares } from '../../../src/app/share/list.js';
import { CONSTANT_TIME } from '../../../src/practice/index.js';
import { freshPractice } from '../small-practice.js';
import { A, codesOf, quietPorts, SECOND, STILL, share, takeIn, writeTemplate } from './given.js';

const sha256 = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

describe('sharing a reviewed, clean sheet', () => {
  it('copies exactly the sheet that was reviewed, under its share code alone', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const report = await share(practice, ports, code);
    expect(report).toMatchObject({ shared: true, reasons: [], version: 1, replaces: null, basis: 'consent' });
    const folder = join(practice.root, report.outbox as string);
    expect(readdirSync(folder)).toEqual([`${report.shareCode}-referrer.pdf`]);
    const file = join(folder, `${report.shareCode}-referrer.pdf`);
    expect(sha256(file)).toBe(sha256(join(practice.paths.cases, code, 'sheets/referrer.pdf')));
    expect(sha256(file)).toBe(report.sha256);
    for (const path of [file, folder, practice.paths.outbox])
      expect(statSync(path).mtimeMs).toBe(CONSTANT_TIME.getTime());
    expect(JSON.stringify(readdirSync(practice.paths.outbox, { recursive: true }))).not.toContain(code);
  });

  it('enters in the register what, to whom, by whom, on which basis, when and which bytes', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const report = await share(practice, ports, code, { pictures: true });
    // JSON Lines: every line is an object by itself (jsonlines.org).
    const lines = readFileSync(practice.paths.register, 'utf8').trim().split('\n');
    const entries = lines.map((line) => JSON.parse(line));
    expect(entries.map(({ kind }) => kind)).toEqual(['begun', 'shared']);
    expect(entries[1]).toMatchObject({
      what: 'sheet and pictures',
      case: code,
      shareCode: report.shareCode,
      audience: 'referrer',
      to: 'Dr Example, North Street',
      by: 'AB',
      basis: 'consent',
      version: 1,
      replaces: null,
      sha256: report.sha256,
      audit: { clean: true, possible: 0 },
    });
    expect(entries[1].files).toHaveLength(3);
    for (const { name, sha256: wanted } of entries[1].files)
      expect(sha256(join(practice.root, report.outbox as string, name))).toBe(wanted);
    expect(statSync(practice.paths.register).mode & 0o077).toBe(0);
  });

  it('tells nobody but the register who it went to and who answers for it', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    await share(practice, ports, code, { to: 'Quillfeather Clinic', reviewedBy: 'QZX', pictures: true });
    const open = ['cases', 'outbox'].flatMap((top) =>
      readdirSync(join(practice.root, top), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name)),
    );
    expect(open.length).toBeGreaterThan(5);
    for (const path of [...open, practice.paths.journal]) {
      const text = readFileSync(path, 'latin1');
      expect(text).not.toContain('Quillfeather');
      expect(text).not.toContain('QZX');
    }
  });

  it('takes only pictures that the sheet shows', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const face = '{file: b.jpg, stage: pre-op, view: extraoral}';
    const answers = ['answers: [{code: face, file: b.jpg, by: AB, why: profile, audience: [teaching]}]'];
    const code = await takeIn(practice, ports, { images: [STILL, face], more: answers });
    const report = await share(practice, ports, code, { pictures: true });
    expect(report.shared).toBe(true);
    expect(report.files.map(({ name }) => name.replace(/^[^-]+-/, ''))).toEqual([
      'referrer.pdf',
      'referrer-01.jpg',
    ]);
  });

  it('keeps the version while nothing changed, and lists every release', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    expect((await share(practice, ports, code)).reasons).toEqual([]);
    const again = await share(practice, ports, code, { to: 'Dr Other', reviewedBy: null, pictures: true });
    expect(again).toMatchObject({ shared: true, version: 1, replaces: null, by: 'AB', haveOlder: [] });
    expect((await listShares(practice))?.map(({ to, version }) => [to, version])).toEqual([
      ['Dr Example, North Street', 1],
      ['Dr Other', 1],
    ]);
  });

  it('gives a corrected sheet the next version, says who has the old one, and takes that out of the outbox', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const first = await share(practice, ports, code, { pictures: true });
    await share(practice, ports, code, { to: 'dr  other' });
    await takeIn(practice, ports, { images: [STILL.replace('Floor', 'Floor of the chamber'), SECOND] });
    const next = await share(practice, ports, code, { to: 'Dr Other' });
    expect(next).toMatchObject({ shared: true, version: 2, replaces: 1, shareCode: first.shareCode });
    expect(next.haveOlder.map(({ to, version }) => [to, version])).toEqual([['Dr Example, North Street', 1]]);
    expect(readdirSync(join(practice.root, next.outbox as string))).toEqual([
      `${next.shareCode}-referrer.v2.pdf`,
    ]);
    // What it once shared, the practice still has.
    expect(readdirSync(join(practice.paths.records, 'retired'))).toHaveLength(3);
    const listed = await listShares(practice);
    expect(listed?.map(({ version, outdated }) => [version, outdated])).toEqual([
      [1, true],
      [1, true],
      [2, false],
    ]);
  });

  it('shares a sheet that was made small for e-mail as small as it was reviewed', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const { drawCaseSheet } = await import('../../../src/app/sheet/index.js');
    const small = await drawCaseSheet(practice, ports, code, {
      template: 'referrer',
      maxMegabytes: 0.000001,
    });
    if (small.kind !== 'made') throw new Error(small.kind);
    const report = await share(practice, ports, code);
    expect(report).toMatchObject({ shared: true, sha256: small.sha256 });
  });

  it('lists nothing when nothing was shared', async () => {
    expect(await listShares(await freshPractice())).toEqual([]);
  });
});

describe('the gate', () => {
  it('refuses a sheet that nobody has reviewed, and says how to', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const report = await share(practice, ports, code, { reviewedBy: null });
    expect(report).toMatchObject({ shared: false, outbox: null, version: null });
    expect(codesOf(report)).toEqual(['not-reviewed']);
    expect(report.reasons[0]?.sentence).toContain(`scopeleaf review ${code} -t referrer --by INITIALS`);
    expect(readdirSync(practice.paths.outbox)).toEqual([]);
    expect(existsSync(practice.paths.register)).toBe(false);
  });

  it('counts an earlier review of the same bytes, and none of other bytes', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const wish = { template: 'referrer', by: 'AB', onLooks: () => undefined };
    expect((await reviewSheet(practice, ports, code, wish)).kind).toBe('reviewed');
    await takeIn(practice, ports, { images: [STILL.replace('Floor', 'Orifices'), SECOND] });
    const report = await share(practice, ports, code, { reviewedBy: null });
    expect(codesOf(report)).toEqual(['not-reviewed']);
    expect(report.reasons[0]?.sentence).toContain('no longer the one that was reviewed');
  });

  it('never takes a review for a sheet that is drawn only now', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports, { consent: '{referral: true, teaching: true}' });
    await writeTemplate(practice, 'teaching');
    const first = await share(practice, ports, code, { template: 'teaching' });
    expect(codesOf(first)).toEqual(['not-reviewed']);
    expect(first.reasons[0]?.sentence).toContain('drawn just now');
    const second = await share(practice, ports, code, { template: 'teaching' });
    expect(second).toMatchObject({ shared: true, basis: 'consent', audience: 'teaching', coverSlip: null });
  });

  it('never takes a review for a sheet that somebody has changed on the disk', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const { appendFile } = await import('node:fs/promises');
    await appendFile(join(practice.paths.cases, code, 'sheets/referrer.pdf'), '%');
    const report = await share(practice, ports, code);
    expect(codesOf(report)).toEqual(['not-reviewed']);
    expect(existsSync(practice.paths.reviews)).toBe(false);
  });

  it('tells everything that stands against it at once', async () => {
    const practice = await freshPractice();
    const ports = quietPorts({
      audit: async ({ name }) => ({
        kind: 'kept',
        value: { hits: [{ file: name, where: 'page 1, text', kind: 'date' }], possible: [], unread: [] },
      }),
    });
    const code = await takeIn(
      practice,
      ports,
      { patient: '{}', consent: '', images: [STILL, '{file: absent.jpg, stage: access, view: microscope}'] },
      { 'a.jpg': A },
    );
    const report = await share(practice, ports, code, { reviewedBy: null });
    expect(codesOf(report)).toEqual(['audit-hit', 'held', 'no-basis', 'not-reviewed', 'nothing-to-search']);
    for (const { sentence } of report.reasons) expect(sentence).toMatch(/\. .+/);
    expect(report.reasons.find(({ code: one }) => one === 'audit-hit')?.sentence).toMatch(
      /a date in [0-9A-Z]{6}-referrer\.pdf \(page 1, text\)/,
    );
  });

  it('lets a review settle looks, and nothing else', async () => {
    const practice = await freshPractice();
    const dust = { box: [4, 4, 20, 10] as const, text: '', confidence: 0, score: 0.5, by: 'net' as const };
    const ports = quietPorts({
      search: async () => ({
        kind: 'kept',
        value: { texts: [{ ...dust, box: [...dust.box] }], faces: [], widthPx: 48, heightPx: 48 },
      }),
    });
    const code = await takeIn(practice, ports, { consent: '' });
    const before = await share(practice, ports, code, { reviewedBy: null });
    expect(codesOf(before)).toEqual(['look-open', 'look-open', 'no-basis', 'not-reviewed']);
    const told: number[] = [];
    const after = await share(practice, ports, code, { onLooks: (_, looks) => told.push(looks.length) });
    expect(told).toEqual([2]);
    expect(codesOf(after)).toEqual(['no-basis']);
  });

  it('refuses what the audit could not read', async () => {
    const practice = await freshPractice();
    const ports = quietPorts({
      audit: async () => ({ kind: 'held', reason: { code: 'worker-died', what: 'time' } }),
    });
    const code = await takeIn(practice, ports);
    expect(codesOf(await share(practice, ports, code))).toEqual(['audit-unread']);
  });

  it('refuses a case while a drop that speaks of it is held', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const { noise, intake, freshFolder, writeVisit } = await import('../small-practice.js');
    const { sidecar } = await import('./given.js');
    const folder = await writeVisit(join(await freshFolder(), 'two days'), {
      'c.jpg': await noise(73, '2026:03:01 09:00:00'),
      'd.jpg': await noise(74, '2026:03:04 09:00:00'),
      'visit.yaml': sidecar({
        date: '2026-03-04',
        images: [STILL.replace('a.jpg', 'c.jpg'), SECOND.replace('b.jpg', 'd.jpg')],
      }),
    });
    const [held] = await intake(practice, folder, ports);
    expect(held?.status).toBe('held');
    const report = await share(practice, ports, code);
    expect(codesOf(report)).toEqual(['held']);
    expect(report.reasons[0]?.sentence).toContain('"two days"');
  });

  it('lets an unlabelled picture block nothing', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports, { images: [STILL] });
    expect(await share(practice, ports, code)).toMatchObject({ shared: true });
  });
});
