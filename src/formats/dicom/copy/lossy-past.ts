import { decimals, words } from './kept-values.js';
import { type Source, textsOf } from './source-values.js';
import { type CopyElement, text } from './write-elements.js';

const LOSSY = 0x00282110;
const RATIO = 0x00282112;
const METHOD = 0x00282114;

/** PS3.3, C.7.6.1.1.5: methods by their standard, and the transfer syntaxes (PS3.5, 8.2) that lose by it. */
const METHODS: Record<string, string> = {
  '1.2.840.10008.1.2.4.50': 'ISO_10918_1',
  '1.2.840.10008.1.2.4.51': 'ISO_10918_1',
  '1.2.840.10008.1.2.4.81': 'ISO_14495_1',
  '1.2.840.10008.1.2.4.91': 'ISO_15444_1',
  '1.2.840.10008.1.2.4.203': 'ISO_15444_15',
};

const takeFlag = words(['00', '01']);
const takeRatios = decimals({ count: [1, 8], within: [1, 10_000] });
const takeMethods = words([...new Set(Object.values(METHODS))], 8);

/**
 * Whether the picture was ever coded with loss, which native pixels no longer show: as the source says, and always when
 * the source itself was coded so. Says nothing where nobody knows.
 */
export function lossyPast(source: Source, transferSyntax: string): CopyElement[] {
  const method = METHODS[transferSyntax];
  const flag = method ? ['01'] : takeFlag(textsOf(source, LOSSY, 'CS'));
  if (!flag) return [];
  const ratios = takeRatios(textsOf(source, RATIO, 'DS'));
  const methods = takeMethods(textsOf(source, METHOD, 'CS')) ?? (method ? [method] : null);
  return [
    text(LOSSY, 'CS', ...flag),
    ...(ratios ? [text(RATIO, 'DS', ...ratios)] : []),
    ...(methods ? [text(METHOD, 'CS', ...methods)] : []),
  ];
}
