import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listShares } from '../../../src/app/share/list.js';
import { drawCaseSheet } from '../../../src/app/sheet/index.js';
import { freshFolder, freshPractice, intake, noise, writeVisit } from '../small-practice.js';
import { A, B, codesOf, quietPorts, share, sidecar, takeIn, writeTemplate } from './given.js';

const LATER = await noise(75, '2026:05:02 09:00:00');
const RECALL = ['{file: c.jpg, stage: recall, view: microscope}'];

/** A later visit of the same tooth, in which the patient says something else. */
const later = { date: '2026-05-02', images: RECALL };
const PICTURES = { 'c.jpg': LATER };

describe('a consent withdrawn at a later visit', () => {
  it('ends drawing and sharing, removes the sheet, and lists who is to be asked in words without the patient', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const sheet = join(practice.paths.cases, code, 'sheets/referrer.pdf');
    const first = await share(practice, ports, code, { pictures: true });
    expect(first.shared).toBe(true);

    await takeIn(practice, ports, { ...later, consent: '{referral: false}' }, PICTURES);
    expect(existsSync(sheet)).toBe(false);
    const drawn = await drawCaseSheet(practice, ports, code, { template: 'referrer' });
    expect(drawn).toMatchObject({ kind: 'refused', withdrawn: { kind: 'referral' } });
    const report = await share(practice, ports, code);
    expect(codesOf(report)).toEqual(['consent-withdrawn']);
    expect(report.withdrawn?.shared.map(({ to, shareCode }) => [to, shareCode])).toEqual([
      ['Dr Example, North Street', first.shareCode],
    ]);
    const texts = report.withdrawn?.texts ?? [];
    expect(texts).toHaveLength(1);
    expect(texts[0]?.text).toContain(first.shareCode as string);
    expect(texts[0]?.text).toMatch(/delete/);
    for (const word of ['Rowan', 'Testcase', 'A-20417', code, '2026'])
      expect(texts[0]?.text).not.toContain(word);

    // Nobody sends it again by mistake; the practice keeps what it shared.
    expect(readdirSync(practice.paths.outbox)).toEqual([]);
    expect(readdirSync(join(practice.paths.records, 'retired')).sort()).toEqual(
      first.files.map(({ name }) => name).sort(),
    );
    expect(await listShares(practice)).toHaveLength(1);
  });

  it('bars a referrer also where practice.yaml lets a referral rest on treatment', async () => {
    const practice = await freshPractice();
    practice.settings.referralBasis = 'treatment';
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    await takeIn(practice, ports, { ...later, consent: '{referral: false}' }, PICTURES);
    expect(codesOf(await share(practice, ports, code))).toEqual(['consent-withdrawn']);
  });

  it('is told also when the yes was corrected to a no after something had been shared', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    await share(practice, ports, code);
    await takeIn(practice, ports, { consent: '{referral: false}' });
    const report = await share(practice, ports, code);
    expect(codesOf(report)).toEqual(['consent-withdrawn']);
    expect(report.withdrawn?.shared).toHaveLength(1);
  });

  it('can be given again at a later visit still', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports, {}, { 'a.jpg': A, 'b.jpg': B });
    await takeIn(practice, ports, { ...later, consent: '{referral: false}' }, PICTURES);
    const again = {
      date: '2026-06-02',
      consent: '{referral: true}',
      images: ['{file: d.jpg, stage: recall, view: microscope}'],
    };
    await takeIn(practice, ports, again, { 'd.jpg': await noise(76, '2026:06:02 09:00:00') });
    expect(await share(practice, ports, code)).toMatchObject({ shared: true });
  });
});

describe('a consent for teaching withdrawn', () => {
  it('is told when the visit that says so is taken in, though nobody asked for that sheet', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports, { consent: '{referral: true, teaching: true}' });
    await writeTemplate(practice, 'teaching');
    await share(practice, ports, code, { template: 'teaching' });
    expect(await share(practice, ports, code, { template: 'teaching' })).toMatchObject({ shared: true });
    await share(practice, ports, code);

    const folder = await writeVisit(join(await freshFolder(), 'recall'), {
      ...PICTURES,
      'visit.yaml': sidecar({ ...later, consent: '{teaching: false}' }),
    });
    const [told] = await intake(practice, folder, ports);
    expect(told?.errors.map(({ field }) => field)).toEqual(['consent.teaching']);
    expect(told?.errors[0]?.sentence).toContain(`scopeleaf sheet ${code} -t teaching`);
    // The referrer's copy stays: that consent stands.
    const left = readdirSync(practice.paths.outbox, { recursive: true, encoding: 'utf8' });
    expect(left.filter((name) => name.endsWith('.pdf'))).toHaveLength(1);
    expect(codesOf(await share(practice, ports, code, { template: 'teaching' }))).toEqual([
      'consent-withdrawn',
    ]);
    expect(await share(practice, ports, code)).toMatchObject({ shared: true });
  });
});

describe('consent that nobody gave', () => {
  it('does not keep a sheet from being drawn, only from being shared', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports, { consent: '' });
    expect(await drawCaseSheet(practice, ports, code, { template: 'referrer' })).toMatchObject({
      kind: 'made',
    });
    const report = await share(practice, ports, code);
    expect(codesOf(report)).toEqual(['no-basis']);
    expect(report.reasons[0]?.sentence).toContain('consent: {referral: true}');
  });

  it('is not needed for a referrer where practice.yaml lets it rest on treatment', async () => {
    const practice = await freshPractice();
    practice.settings.referralBasis = 'treatment';
    const ports = quietPorts();
    const code = await takeIn(practice, ports, { consent: '' });
    expect(await share(practice, ports, code)).toMatchObject({ shared: true, basis: 'treatment' });
    expect(codesOf(await share(practice, ports, code, { basis: 'consent' }))).toEqual(['no-basis']);
  });
});
