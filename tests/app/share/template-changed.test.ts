import { cp, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { shareSheet } from '../../../src/app/share/index.js';
import type { Practice } from '../../../src/practice/index.js';
import { freshFolder, freshPractice } from '../small-practice.js';
import { quietPorts, share, takeIn, WISH, writeTemplate } from './given.js';

/** The same practice, whose templates are those of `later` from the second look on. */
function changing(practice: Practice, later: string): Practice {
  let looks = 0;
  const paths = Object.defineProperty({ ...practice.paths }, 'templates', {
    get: () => (++looks > 1 ? later : practice.paths.templates),
  });
  return { ...practice, paths };
}

describe('a template whose audience is changed while its sheet is being shared', () => {
  it('lets nothing out, since the basis was asked for another audience', async () => {
    const practice = await freshPractice();
    const ports = quietPorts();
    const code = await takeIn(practice, ports);
    const later = join(await freshFolder(), 'templates');
    await writeTemplate(practice, 'teaching');
    await cp(practice.paths.templates, later, { recursive: true });
    const file = join(practice.paths.templates, 'teaching.yaml');
    const forReferrers = (await readFile(file, 'utf8')).replace('audience: teaching ', 'audience: referrer ');
    await writeFile(file, forReferrers);
    await share(practice, ports, code, { template: 'teaching' });
    const wish = { ...WISH, template: 'teaching' };
    const answer = await shareSheet(changing(practice, later), ports, code, wish);
    expect(answer).toMatchObject({ kind: 'refused', errors: [{ file: 'teaching.yaml', field: 'audience' }] });
  });
});
