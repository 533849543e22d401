/** One value of an XMP packet under the local name of its property, e.g. "PersonInImage". */
export interface XmpValue {
  name: string;
  value: string;
}

/** More properties than any packet needs; editing histories run to thousands. */
const MOST = 2000;

const TOKEN = /<(\/?)([\w.-]+:)?([\w.-]+)([^<>]*)>([^<]*)/g;
const ATTRIBUTE = /([\w.-]+:)?([\w.-]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;

/** Elements of the data model itself, which name nothing (RDF/XML as XMP part 1, 7 uses it). */
const STRUCTURE = new Set(['RDF', 'Description', 'Bag', 'Seq', 'Alt', 'li', 'xmpmeta', 'xapmeta']);
const SILENT_PREFIX = /^(xmlns|xml|rdf|x):$/;

/**
 * All values of a packet, read without an XML parser: packets are often cut or malformed, and one value too many
 * does no harm here, while one missed could be a name.
 */
export function readXmp(packet: string): XmpValue[] {
  const values: XmpValue[] = [];
  const open: string[] = [];
  for (const [, closing, prefix = '', local = '', attributes = '', text = ''] of packet.matchAll(TOKEN)) {
    if (values.length >= MOST) break;
    if (closing) open.pop();
    else {
      for (const [, attributePrefix = '', name = '', double, single] of attributes.matchAll(ATTRIBUTE))
        if (!SILENT_PREFIX.test(attributePrefix) && name !== 'xmlns')
          values.push({ name, value: decodeEntities(double ?? single ?? '') });
      if (!attributes.endsWith('/')) open.push(prefix === 'rdf:' || STRUCTURE.has(local) ? '' : local);
    }
    const name = open.findLast((element) => element !== '');
    if (text.trim() && name) values.push({ name, value: decodeEntities(text) });
  }
  return values.filter(({ value }) => value !== '');
}

const NAMED: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

function decodeEntities(text: string): string {
  return text
    .replace(/&(?:#x([0-9a-f]{1,6})|#(\d{1,7})|(amp|lt|gt|quot|apos));/gi, (whole, hex, decimal, name) => {
      if (name) return NAMED[String(name).toLowerCase()]!;
      const point = hex ? Number.parseInt(hex, 16) : Number(decimal);
      return point <= 0x10ffff ? String.fromCodePoint(point) : whole;
    })
    .trim();
}
