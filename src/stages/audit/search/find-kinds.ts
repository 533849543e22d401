import { datesIn } from '../../../core/calendar.js';
import { contactKinds, hasGreatAge, hasPersonNumber } from '../../../core/contact.js';
import { fold } from '../../../core/fold.js';
import { maskAllowedForms } from './allowed-forms.js';

/** Forms of address before a name with a capital. */
const TITLED =
  /(?<![\p{L}\p{N}])(?:Dr|DR|Mr|MR|Mrs|MRS|Ms|MS|Miss|Mx|Prof|Professor|Doctor|Herr|Frau|Mme|Mlle|Monsieur|Madame|Sr|Sra|Señor|Señora|Sig|Sigra|Dhr|Mevr)\.?[\s\u00a0]+(?:med\.?\s+|dent\.?\s+)*\p{Lu}[\p{L}'’-]+/u;

/** DICOM's way of writing names (PS3.5, 6.2.1.1). */
const CARETED = /\p{L}{2,}\^\p{L}{2,}/u;

const UUID = /(?<![0-9a-f])[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}(?![0-9a-f])/i;
const HEX_RUN = /(?<![\p{L}\p{N}])(?=[0-9a-f]*\d)(?=[0-9a-f]*[a-f])[0-9a-f]{16,}(?![\p{L}\p{N}])/iu;
const LABELLED =
  /(?<![\p{L}\p{N}])(?:s\/?n|serial(?:\s*(?:no|nr|number))?|ser\.?\s*no|lot(?:\s*no)?|batch|udi|imei|mac|licen[cs]e(?:\s*(?:no|nr|number))?|policy(?:\s*(?:no|number))?|account(?:\s*(?:no|number))?)[\s.:#-]{1,3}(?=[a-z0-9-]*\d{3})[a-z0-9][a-z0-9-]{3,}/iu;
/** Capitals and at least four digits, eight signs or more, as makers stamp them on bodies and sensors. */
const STAMPED =
  /(?<![\p{L}\p{N}.-])(?=[A-Z0-9-]*[A-Z])(?=(?:[A-Z-]*\d){4})[A-Z0-9]+(?:-[A-Z0-9]+)*(?![\p{L}\p{N}-])/gu;

const isSerial = (text: string): boolean =>
  UUID.test(text) ||
  HEX_RUN.test(text) ||
  LABELLED.test(text) ||
  [...text.matchAll(STAMPED)].some(
    ([code]) => code.replace(/-/g, '').length >= 8 && !/^[A-Z]{1,5}\d{4,6}$/.test(code),
  );

/**
 * Kinds of text that may identify somebody, whoever that is (45 CFR 164.514(b)(2)(i)); a fixed order, never the value.
 * What may stand is masked first: see allowed-forms.ts.
 */
export function findKinds(text: string): string[] {
  const masked = maskAllowedForms(text);
  const folded = fold(masked);
  const dates = datesIn(folded);
  const found: [string, boolean][] = [
    ['date', dates.length > 0],
    ...contactKinds(folded).map((kind): [string, boolean] => [kind, kind !== 'phone' || dates.length === 0]),
    ['long-number', dates.length === 0 && hasPersonNumber(folded)],
    ['serial', isSerial(masked)],
    ['name', TITLED.test(masked) || CARETED.test(masked)],
    ['age', hasGreatAge(folded)],
  ];
  return found.filter(([, is]) => is).map(([kind]) => kind);
}
