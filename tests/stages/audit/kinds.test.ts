import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NO_TERMS } from '../../../src/stages/audit/index.js';
import { findKinds } from '../../../src/stages/audit/search/find-kinds.js';
import { kindsOf, read } from './given/read.js';

/** Items of 45 CFR 164.514(b)(2)(i), by letter, as they stand in texts. */
describe('kinds of identifiers', () => {
  it.each([
    ['A', 'referred by Dr Elsewhere', 'name'],
    ['A', 'Mrs. Quill', 'name'],
    ['A', 'Herr Dr. med. Sample', 'name'],
    ['A', 'ELSEWHERE^QUILL', 'name'],
    ['C', 'seen on 4 May 2019', 'date'],
    ['C', '2019-05-04', 'date'],
    ['C', '20190504', 'date'],
    ['C', 'aged 93', 'age'],
    ['D', 'call +44 20 7946 0999', 'phone'],
    ['D', 'Tel. 020 7946 0999', 'phone'],
    ['F', 'quill@mail.example', 'e-mail'],
    ['G', '078-05-1120', 'long-number'],
    ['H', 'record 00482913', 'long-number'],
    ['K', 'Licence no. 48213', 'serial'],
    ['M', 'SN-778899-X1', 'serial'],
    ['M', 'S/N: 4821377', 'serial'],
    ['M', 'XR480055127', 'serial'],
    ['N', 'see https://records.example/patient', 'url'],
    ['O', 'from 192.168.20.41', 'network-address'],
    ['R', '6f9619ff-8b86-d011-b42d-00cf4fc964ff', 'serial'],
  ])('item %s: %s', (_, text, kind) => {
    expect(findKinds(text)).toContain(kind);
  });

  it.each([
    'MB to 30/.04 at 20.5 mm from the MB cusp tip',
    'sizes 10/15/20, then 25/.06 and 30/.04',
    'Fig. 12: orifices at x10, direct view through the mirror',
    'Share code 9VTC4H',
    'Share code 190504',
    'Page 1 of 2',
    'recall at 12 months, then yearly',
    'aged 89',
    'Treated in 2026',
    'ISO 3630-1:2019, IEC 61966-2-1 and 45 CFR 164.514',
    'sRGB IEC61966-2.1',
    'http://ns.adobe.com/xap/1.0/',
    'http://www.w3.org/1999/02/22-rdf-syntax-ns#',
    'MB1, MB2, DB and P; 5 mm bar; 300 dpi; 1600 x 1200',
    'we miss the canal; the dr is closed; ms later',
    'tooth 46 (FDI), 30 (Universal)',
  ])('is none: %s', (text) => {
    expect(findKinds(text)).toEqual([]);
  });

  it('never throw, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (text) => {
        expect(Array.isArray(findKinds(text))).toBe(true);
      }),
    );
  });
});

describe('what may stand', () => {
  const LETTERHEAD = ['Dr Quill Sample, Endodontics', '1 Sample Street', 'Tel +44 20 7946 0999'];

  it('is the letterhead, line by line, in capitals or broken by a line end', async () => {
    const text = `DR QUILL SAMPLE,\nENDODONTICS\n1 Sample Street\nTel +44 20 7946 0999`;
    expect(kindsOf(await read(text, NO_TERMS))).toEqual(['name', 'phone']);
    expect(kindsOf(await read(text, { ...NO_TERMS, allowed: LETTERHEAD }))).toEqual([]);
  });

  it('is no part of a line, and nothing beside it', async () => {
    const allowed = { ...NO_TERMS, allowed: LETTERHEAD };
    expect(kindsOf(await read('Tel +44 20 7946 0998', allowed))).toEqual(['phone']);
    expect(kindsOf(await read('Dr Quill Other', allowed))).toEqual(['name']);
    expect(kindsOf(await read('Tel +44 20 7946 0999, born 2 June 1984', allowed))).toEqual(['date']);
  });
});
