import type { Reading } from '../reading.js';

export const isXml = (text: string): boolean => /^\ufeff?\s*<(?:\?xml|[!A-Za-z])/.test(text.slice(0, 300));

const NAMED: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'", nbsp: ' ' };

export const decodeEntities = (text: string): string =>
  text.replace(/&(?:#x([0-9a-f]{1,6})|#(\d{1,7})|([a-z]{2,4}));/gi, (whole, hex, decimal, name) => {
    if (name) return NAMED[name.toLowerCase()] ?? whole;
    const point = hex ? Number.parseInt(hex, 16) : Number(decimal);
    return point > 0 && point <= 0x10ffff ? String.fromCodePoint(point) : ' ';
  });

/** Elements that begin a new line: paragraphs and cells of office files, and of HTML and SVG. */
const LINE =
  /<\/?(?:[\w.-]+:)?(?:p|br|tr|tc|td|th|li|div|h[1-6]|title|text|sp|row|si|Description|creator|created|modified|lastModifiedBy|cp|tspan)\b[^<>]*>/gi;

/**
 * Everything a packet or page of XML says: the words of a paragraph run together, since editors break names between
 * runs; element by element; and the values of attributes. No parser: a malformed file is read all the same.
 */
export function readXml(reading: Reading, xml: string, where: string): void {
  const bare = xml.replace(/<!\[CDATA\[|\]\]>/g, '');
  const run = decodeEntities(bare.replace(LINE, '\n').replace(/<[^<>]*>/g, ''));
  const apart = decodeEntities(bare.replace(/<[^<>]*>/g, ' \u00b7 '));
  reading.text(where, run);
  reading.text(where, apart);
  const attributes = [...bare.matchAll(/([\w:.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g)]
    .filter(
      ([, name = '']) =>
        !/^(?:xmlns|.*:?id|.*:?rsid\w*|target|guid|uri)$/i.test(name) && !name.startsWith('xmlns:'),
    )
    .map(([, , double, single]) => decodeEntities(double ?? single ?? ''));
  reading.text(`${where}, attributes`, attributes.join(' \u00b7 \n'), { ofProgram: !isPacket(bare) });
  // Comments, targets and whatever else was left out above.
  reading.text(where, decodeEntities(bare), { ofProgram: true });
}

/** In XMP the values of a description may all be attributes; elsewhere attributes are numbers of a program's making. */
const isPacket = (xml: string): boolean => /<(?:\w+:)?(?:xmpmeta|RDF)\b/.test(xml);
