import { describe, expect, it } from 'vitest';
import {
  knownCode,
  MODIFIER_CODES,
  REGION_CODES,
  TOOTH_CODES,
} from '../../../../src/formats/dicom/copy/anatomy-codes.js';
import { run, withPeers } from './peer-tools.js';

interface Concept {
  cid: number;
  code: string;
  srt: string;
  name: string;
}

const PROGRAM = `
import json
import pydicom.sr._cid_dict as cids, pydicom.sr._concepts_dict as concepts, pydicom.sr._snomed_dict as snomed
out = []
for cid in (4016, 4017, 4018, 4019, 4025):
    for keyword in cids.cid_concepts[cid]['SCT']:
        for code, (name, within) in concepts.concepts['SCT'][keyword].items():
            if cid in within:
                out.append({'cid': cid, 'code': code, 'srt': snomed.mapping['SCT'][code], 'name': name})
print(json.dumps(out))`;

/** Place from the midline by the words of PS3.16; premolars count on from the canine. */
function placeOf(name: string): number {
  if (/central incisor/.test(name)) return 1;
  if (/lateral/.test(name)) return 2;
  if (/canine/.test(name)) return 3;
  const nth = ['first', 'second', 'third'].findIndex((word) => name.includes(word)) + 1;
  return /premolar/.test(name) || /deciduous/.test(name) ? 3 + nth : 5 + nth;
}

/** ISO 3950: quadrants from the upper right, clockwise as the dentist looks; 5 to 8 for deciduous teeth. */
function toothOf(words: string): number {
  const name = words.toLowerCase();
  const quadrants = ['maxillary right', 'maxillary left', 'mandibular left', 'mandibular right'];
  const quadrant = quadrants.findIndex((where) => name.includes(where)) + 1;
  return (quadrant + (name.includes('deciduous') ? 4 : 0)) * 10 + placeOf(name);
}

describe('codes of teeth and regions', () => {
  withPeers(['pydicom'], 'agree with the names that PS3.16 gives them, as pydicom carries it', () => {
    const { text, status } = run('/usr/bin/python3', ['-c', PROGRAM]);
    expect(status).toBe(0);
    const concepts = JSON.parse(text) as Concept[];
    // 32 and 20 teeth, 52 supernumerary ones, 4 regions, 8 modifiers
    expect(concepts).toHaveLength(116);
    for (const { cid, code, srt, name } of concepts) {
      const list = cid === 4016 ? REGION_CODES : cid === 4017 ? MODIFIER_CODES : TOOTH_CODES;
      const entries = [knownCode(list, 'SCT', code), knownCode(list, 'SRT', srt)];
      for (const entry of entries) {
        if (cid < 4018) expect(entry?.meaning).toBe(name[0]?.toLowerCase() + name.slice(1));
        else if (cid === 4025)
          expect(entry?.meaning).toBe(`supernumerary tooth beside ${toothOf(name)} (ISO 3950)`);
        else expect(entry?.tooth).toBe(toothOf(name));
      }
    }
  });

  it('know the newer codes of CID 4018 as well', () => {
    // PS3.16, version of 22 September 2022: permanent maxillary right canine and first molar
    expect(knownCode(TOOTH_CODES, 'SCT', '860767006')?.tooth).toBe(13);
    expect(knownCode(TOOTH_CODES, 'SCT', '865995000')?.tooth).toBe(16);
  });

  it('name each tooth once in a scheme of old, and never two teeth with one code', () => {
    const teeth = [...TOOTH_CODES.values()].filter(({ tooth }) => tooth !== null);
    expect(teeth.filter(({ scheme }) => scheme === 'SRT').map(({ tooth }) => tooth)).toHaveLength(52);
    expect(new Set(teeth.map(({ tooth }) => tooth)).size).toBe(52);
    expect(teeth.length + 2 * 52).toBe(TOOTH_CODES.size);
  });

  it('are known under the earlier names of a scheme, and under no other', () => {
    expect(knownCode(TOOTH_CODES, 'SNM3', 'T-54230')?.tooth).toBe(16);
    expect(knownCode(TOOTH_CODES, '99SDM', 'T-54230')).toMatchObject({ scheme: 'SRT', tooth: 16 });
    for (const scheme of ['', 'FMA', '99QUILL', 'sct', 'constructor'])
      expect(knownCode(TOOTH_CODES, scheme, 'T-54230')).toBeNull();
    expect(knownCode(TOOTH_CODES, 'SRT', '20417')).toBeNull();
  });

  it('have meanings that fit their field: plain characters, at most 64', () => {
    for (const codes of [REGION_CODES, MODIFIER_CODES, TOOTH_CODES])
      for (const { meaning } of codes.values()) expect(meaning).toMatch(/^[\x20-\x5b\x5d-\x7e]{1,64}$/);
  });
});
