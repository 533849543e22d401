import type { IdentifyingString } from '../../core/picture-facts.js';

type Kind = IdentifyingString['kind'];

/**
 * Labels that announce who a picture is of, in the languages camera and scanner operators type. Common practice,
 * no source; a label too many only means one more string to search for.
 */
const LABELS: [kind: Kind, label: string][] = [
  [
    'birth-date',
    String.raw`d\.?o\.?b\.?|born|birth[\s-]?dat[ea]|date of birth|geb(?:oren)?\.?(?:\s*am)?|geburtsdatum|né[e]? le`,
  ],
  [
    'person-id',
    String.raw`(?:pat(?:ient)?(?:en)?|chart|record|case|mrn|karten?)[\s.\-_]*(?:id|nr|no|num(?:ber|mer)?|#)|mrn|chart|id`,
  ],
  [
    'person-name',
    String.raw`pat(?:ient(?:in)?)?(?:['’]?s)?[\s.\-_]*(?:full\s*)?name|pat(?:ient(?:in)?)?|name|nom|nombre|nome`,
  ],
];

const ANY = LABELS.map(([, label]) => label).join('|');

/** Values that stand behind a label, up to the next label or separator: "Patient: Rowan Testcase, DOB 1984-06-02". */
export function labelledValues(text: string): { kind: Kind; value: string }[] {
  const found: { kind: Kind; value: string }[] = [];
  for (const [kind, label] of LABELS) {
    const pattern = new RegExp(
      String.raw`(?<![\p{L}\d])(?:${label})\s*[:=#.]?\s*[:=]\s*(.{1,100}?)\s*(?=$|[\n\r;|]|[,\s](?:${ANY})\s*[:=#])`,
      'giu',
    );
    for (const [, value] of text.slice(0, 2000).matchAll(pattern)) {
      const trimmed = value?.replace(/^[\s"']+|[\s"',]+$/g, '') ?? '';
      if (trimmed.length >= 2)
        found.push({ kind, value: kind === 'person-id' ? trimmed.split(/[\s,]/)[0]! : trimmed });
    }
  }
  const birth = /(?<![\p{L}])(?:dob|d\.o\.b\.|born|geb\.|date of birth)\s+([\d./-]{6,10})/giu;
  for (const [, value] of text.matchAll(birth)) if (value) found.push({ kind: 'birth-date', value });
  return found;
}
