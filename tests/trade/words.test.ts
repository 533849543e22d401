import { describe, expect, it } from 'vitest';
import { DIAGNOSIS_TERMS, lookUpDiagnosis } from '../../src/trade/diagnoses.js';
import {
  BANDS,
  bandOf,
  bandTitle,
  STAGE_WORDS,
  STAGES,
  stageOrder,
  stageTitle,
} from '../../src/trade/stages.js';
import {
  isUnfinished,
  TREATMENT_KINDS,
  treatmentTitle,
  VISIT_STATES,
  visitStateTitle,
} from '../../src/trade/treatments.js';
import { ANGLES, SLICE_PLANES, VIEWS, viewTitle } from '../../src/trade/views.js';

const isPrintable = (text: string): boolean => /^[A-Z][\w ,-]+$/.test(text);

describe('stages', () => {
  it('belong to the band they are listed under, in one order', () => {
    for (const band of BANDS) for (const stage of STAGES[band]) expect(bandOf(stage)).toBe(band);
    expect(new Set(STAGE_WORDS).size).toBe(STAGE_WORDS.length);
    expect(stageOrder('pre-op')).toBe(0);
    expect(stageOrder('orifices')).toBeLessThan(stageOrder('shaping'));
    expect(stageOrder('other')).toBe(STAGE_WORDS.length - 1);
  });

  it('have words to print, and `other` prints its own', () => {
    for (const stage of STAGE_WORDS) expect(isPrintable(stageTitle(stage))).toBe(true);
    expect(new Set(STAGE_WORDS.map((stage) => stageTitle(stage))).size).toBe(STAGE_WORDS.length);
    expect(stageTitle('root-end-filling')).toBe('Root-end filling');
    expect(stageTitle('other', 'crack line')).toBe('Crack line');
    expect(BANDS.map(bandTitle)).toEqual(['Before', 'During', 'After']);
  });
});

describe('views, treatments and states', () => {
  it('have words to print', () => {
    for (const view of VIEWS) expect(isPrintable(viewTitle(view))).toBe(true);
    for (const kind of TREATMENT_KINDS) expect(isPrintable(treatmentTitle(kind))).toBe(true);
    for (const state of VISIT_STATES) expect(isPrintable(visitStateTitle(state))).toBe(true);
  });

  it('add plane and angle where they mean something', () => {
    expect(viewTitle('periapical', null, ANGLES[1])).toBe('Periapical radiograph, mesial angle');
    expect(viewTitle('cbct-slice', SLICE_PLANES[0], null)).toBe('Cone-beam slice, axial');
    expect(viewTitle('microscope', 'axial', 'mesial')).toBe('Microscope still');
  });

  it('know which states leave treatment unfinished', () => {
    expect(VISIT_STATES.filter(isUnfinished)).toEqual(['interim', 'emergency', 'interrupted']);
  });
});

describe('diagnosis terms', () => {
  it('are the seven pulpal and six apical terms of the AAE list (J Endod 2009;35(12))', () => {
    expect(DIAGNOSIS_TERMS.pulp).toHaveLength(7);
    expect(DIAGNOSIS_TERMS.apex).toHaveLength(6);
    for (const term of DIAGNOSIS_TERMS.pulp)
      expect(lookUpDiagnosis(term.toUpperCase(), DIAGNOSIS_TERMS.pulp).listed).toBe(true);
  });

  it('are offered for a slip', () => {
    expect(lookUpDiagnosis('pulp necrosiss', DIAGNOSIS_TERMS.pulp)).toEqual({
      listed: false,
      meant: ['pulp necrosis'],
    });
    expect(lookUpDiagnosis('necrosis', DIAGNOSIS_TERMS.pulp).meant).toEqual(['pulp necrosis']);
    expect(lookUpDiagnosis('Pulpa nekrotisch', DIAGNOSIS_TERMS.pulp).meant).toEqual([]);
  });

  it('are never offered where the slip would reverse the meaning', () => {
    expect(lookUpDiagnosis('irreversible pulpitis', DIAGNOSIS_TERMS.pulp).meant).toEqual([
      'symptomatic irreversible pulpitis',
      'asymptomatic irreversible pulpitis',
    ]);
    expect(lookUpDiagnosis('irreversable pulpitis', DIAGNOSIS_TERMS.pulp).meant).toEqual([]);
    expect(lookUpDiagnosis('asymptomatic apical periodontits', DIAGNOSIS_TERMS.apex).meant).toEqual([
      'asymptomatic apical periodontitis',
    ]);
  });
});
