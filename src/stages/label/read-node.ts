import { isMap, isScalar, isSeq, type Node, type Pair, type Scalar } from 'yaml';
import { wording } from '../../trade/visit/index.js';
import { type AnySchema, bare, defOf } from './schema-at.js';

/** Where a value stands in the text, and the text itself if it is a single value. */
export interface Place {
  offset: number;
  raw: string | null;
}

/** Places by path, the path as JSON: '["images",1,"stage"]'. Keys that nobody knows are listed too. */
export type Places = Map<string, Place>;

export type Path = readonly PropertyKey[];

export const pathKey = (path: Path): string => JSON.stringify(path);

/**
 * Reads a YAML node towards a schema: a word is folded to the listed word it means, a text keeps what was typed,
 * one value stands for a list of one. What does not fit is passed on as it is, for the schema to refuse.
 */
export function readNode(node: Node | null, schema: AnySchema, path: Path, places: Places): unknown {
  const target = bare(schema);
  places.set(pathKey(path), { offset: node?.range?.[0] ?? 0, raw: isScalar(node) ? textOf(node) : null });
  if (node === null || isAbsent(node, target)) return undefined;
  if (wording.get(target)?.raw) return plain(node, path, places);
  const def = defOf(target);
  switch (def.type) {
    case 'object':
      return isMap(node)
        ? readMap(node.items as Pair<Node, Node | null>[], target, path, places)
        : plain(node, path, places);
    case 'record':
      return isMap(node)
        ? readMap(node.items as Pair<Node, Node | null>[], target, path, places)
        : plain(node, path, places);
    case 'array':
      return readList(node, target, path, places);
    case 'tuple':
      return isSeq(node)
        ? node.items.map((item, at) =>
            readNode(item as Node, def.items[Math.min(at, def.items.length - 1)]!, [...path, at], places),
          )
        : plain(node, path, places);
    case 'enum':
      return isScalar(node)
        ? listedWord(textOf(node), Object.values(def.entries))
        : plain(node, path, places);
    case 'number':
      return isScalar(node) ? asNumber(textOf(node)) : plain(node, path, places);
    case 'boolean':
      return isScalar(node) ? asYesNo(textOf(node)) : plain(node, path, places);
    case 'string':
      return isScalar(node) ? textOf(node) : plain(node, path, places);
    default:
      return plain(node, path, places);
  }
}

/** What was typed: plain scalars by their source, quoted and block scalars by their value. */
const textOf = (node: Scalar): string => String(node.value ?? node.source ?? '').trim();

/** A key with nothing behind it is as good as absent. A patient may be called Null: only `null` itself is nothing. */
function isAbsent(node: Node, target: AnySchema): boolean {
  if (!isScalar(node) || node.type !== 'PLAIN') return false;
  const text = textOf(node);
  const words = defOf(target).type === 'string' ? ['', '~', 'null'] : ['', '~', 'null', 'Null', 'NULL'];
  return words.includes(text);
}

function readMap(items: Pair<Node, Node | null>[], target: AnySchema, path: Path, places: Places): unknown {
  const def = defOf(target);
  const value: Record<string, unknown> = Object.create(null);
  for (const pair of items) {
    const key = isScalar(pair.key) ? textOf(pair.key) : '';
    const child: AnySchema | undefined =
      def.type === 'record'
        ? def.valueType
        : def.type === 'object' && Object.hasOwn(def.shape, key)
          ? def.shape[key]
          : undefined;
    const at = [...path, key];
    if (child === undefined) {
      places.set(pathKey(at), {
        offset: pair.key.range?.[0] ?? 0,
        raw: isScalar(pair.value) ? textOf(pair.value) : null,
      });
      value[key] = true;
      continue;
    }
    const read = readNode(pair.value ?? null, child, at, places);
    if (pair.value === null) places.set(pathKey(at), { offset: pair.key.range?.[0] ?? 0, raw: '' });
    if (read !== undefined) value[key] = read;
  }
  return { ...value };
}

function readList(node: Node, target: AnySchema, path: Path, places: Places): unknown {
  const def = defOf(target);
  if (def.type !== 'array') return plain(node, path, places);
  const element = bare(def.element);
  const each = (item: Node, at: number): unknown => readNode(item, element, [...path, at], places);
  if (isSeq(node)) return node.items.map((item, at) => each(item as Node, at) ?? null);
  if (isScalar(node) && wording.get(target)?.commas) {
    const offset = node.range?.[0] ?? 0;
    const parts = textOf(node)
      .split(',')
      .map((part) => part.trim())
      .filter((part) => part !== '');
    parts.forEach((raw, at) => {
      places.set(pathKey([...path, at]), { offset, raw });
    });
    return parts;
  }
  const kind = wording.get(element)?.raw ? 'any' : defOf(element).type;
  const fits = kind === 'any' || (isMap(node) ? kind === 'object' : isScalar(node) && kind === 'string');
  return fits ? [each(node, 0)] : plain(node, path, places);
}

const flat = (word: string): string => word.toLowerCase().replace(/[\s_-]+/g, '');

/** "Pre-Op", "pre_op" and "preop" are all pre-op. */
function listedWord(text: string, words: readonly unknown[]): string {
  const found = words.find((word) => typeof word === 'string' && flat(word) === flat(text));
  return typeof found === 'string' ? found : text;
}

/** Decimal numbers only: no hexadecimal, no infinity, no comma, no unit. */
const asNumber = (text: string): number | string =>
  /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d{1,2})?$/i.test(text) ? Number(text) : text;

/** YAML 1.2 knows true and false; people write yes and no. */
function asYesNo(text: string): boolean | string {
  const word = text.toLowerCase();
  if (word === 'true' || word === 'yes') return true;
  return word === 'false' || word === 'no' ? false : text;
}

/** A node as plain data, numbers where they look like numbers. Only for the tooth, and for what will be refused. */
function plain(node: Node | null, path: Path, places: Places): unknown {
  if (node !== null && !places.has(pathKey(path))) {
    places.set(pathKey(path), { offset: node.range?.[0] ?? 0, raw: isScalar(node) ? textOf(node) : null });
  }
  if (isScalar(node)) return node.type === 'PLAIN' ? asNumber(textOf(node)) : textOf(node);
  if (isSeq(node)) return node.items.map((item, at) => plain(item as Node, [...path, at], places));
  if (!isMap(node)) return null;
  const pairs = (node.items as Pair<Node, Node | null>[]).map((pair): [string, unknown] => {
    const key = isScalar(pair.key) ? textOf(pair.key) : '';
    return [key, plain(pair.value, [...path, key], places)];
  });
  return Object.fromEntries(pairs);
}
