import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePersons, nameParts, samePart, samePerson } from '../../src/core/names.js';

describe('comparePersons', () => {
  it.each([
    ['Rowan Testcase', 'TESTCASE^ROWAN'],
    ['Rowan Testcase', 'Testcase, Rowan, Mr'],
    ['Rowan Testcase', 'R. Testcase'],
    ['Rowan Testcase', 'TESTCASE^ROWAN^LEE'],
    ['Rowan Testcase', 'Rowan Testcsae'],
    ['Rowan Testcase', 'testcase'],
    ['Jörg Müller', 'MUELLER^JOERG'],
    ['Anne-Marie Beispiel', 'BEISPIEL^ANNEMARIE'],
    ['Ελένη Δοκιμή', 'ΔΟΚΙΜΗ^ΕΛΕΝΗ'],
  ])('takes %s and %s for one person', (a, b) => {
    expect(comparePersons(a, b)).toBe('same');
    expect(comparePersons(b, a)).toBe('same');
  });

  it.each([
    ['Rowan Testcase', 'TESTCASE^JANE'],
    ['Rowan Testcase', 'SAMPLE^ROWAN'],
    ['Rowan Testcase', 'Alex Sample'],
    ['Li Wei', 'Li Wen'],
  ])('takes %s and %s for two people', (a, b) => {
    expect(comparePersons(a, b)).toBe('other');
    expect(comparePersons(b, a)).toBe('other');
  });

  it.each(['', 'Anonymous', 'UNKNOWN^PATIENT', 'Mr', '^^^', '12345', 'Ελένη Δοκιμή'])(
    'says nothing about "%s" beside a Latin name',
    (other) => expect(comparePersons('Rowan Testcase', other)).toBe('unknown'),
  );

  it('is symmetric for any two names, and every name of two letters or more is its own person', () => {
    const part = fc.string({
      unit: fc.constantFrom('a', 'b', 'e', 'o', 'é', 'ü', 'n', 's', 'α'),
      minLength: 1,
      maxLength: 7,
    });
    const name = fc.array(part, { minLength: 1, maxLength: 3 }).map((parts) => parts.join(' '));
    fc.assert(
      fc.property(name, name, (a, b) => comparePersons(a, b) === comparePersons(b, a)),
      { numRuns: 3000 },
    );
    fc.assert(fc.property(name, (a) => samePerson(a, a)));
    fc.assert(fc.property(part, part, (a, b) => samePart(a, b) === samePart(b, a)));
  });

  it('leaves titles out', () => {
    expect(nameParts('Prof. Dr. Rowan Testcase')).toEqual(['rowan', 'testcase']);
  });
});
