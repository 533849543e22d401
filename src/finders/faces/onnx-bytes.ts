/**
 * Writes a small net as bytes of the ONNX format (onnx.proto, IR version 8, operator set 13), as far as a chain of
 * convolutions needs it. The field numbers are those of that file.
 */

export interface Tensor {
  shape: readonly number[];
  values: Float32Array | BigInt64Array;
}

export interface Node {
  operator: string;
  inputs: readonly string[];
  output: string;
  attributes?: Readonly<Record<string, number | readonly number[] | string>>;
}

export interface Graph {
  /** A dimension given as a word is free. */
  input: { name: string; shape: readonly (number | string)[] };
  outputs: readonly { name: string; shape: readonly (number | string)[] }[];
  tensors: ReadonlyMap<string, Tensor>;
  nodes: readonly Node[];
}

const IR_VERSION = 8;
const OPERATOR_SET = 13;
const FLOAT = 1;
const INT64 = 7;
const ATTRIBUTE = { int: 2, string: 3, ints: 7 } as const;

/** Protocol buffers: a number in groups of seven bits, the lowest first. */
function varint(value: number): Uint8Array {
  const bytes: number[] = [];
  let left = value;
  while (left > 127) {
    bytes.push((left % 128) + 128);
    left = Math.floor(left / 128);
  }
  return Uint8Array.from([...bytes, left]);
}

const number = (field: number, value: number): Uint8Array[] => [varint(field * 8), varint(value)];

function bytes(field: number, ...parts: readonly Uint8Array[]): Uint8Array[] {
  const length = parts.reduce((sum, part) => sum + part.length, 0);
  return [varint(field * 8 + 2), varint(length), ...parts];
}

const text = (field: number, value: string): Uint8Array[] => bytes(field, Buffer.from(value, 'utf8'));

function attribute(name: string, value: number | readonly number[] | string): Uint8Array[] {
  const kind = (type: number) => number(20, type);
  if (typeof value === 'number') return [...text(1, name), ...number(3, value), ...kind(ATTRIBUTE.int)];
  if (typeof value === 'string') return [...text(1, name), ...text(4, value), ...kind(ATTRIBUTE.string)];
  return [...text(1, name), ...value.flatMap((one) => number(8, one)), ...kind(ATTRIBUTE.ints)];
}

const node = ({ operator, inputs, output, attributes = {} }: Node): Uint8Array[] => [
  ...inputs.flatMap((name) => text(1, name)),
  ...text(2, output),
  ...text(4, operator),
  ...Object.entries(attributes).flatMap(([name, value]) => bytes(5, ...attribute(name, value))),
];

/** Raw data are little endian. */
function tensor(name: string, { shape, values }: Tensor): Uint8Array[] {
  const wide = values instanceof BigInt64Array;
  const raw = new DataView(new ArrayBuffer(values.byteLength));
  values.forEach((value, at) => {
    if (wide) raw.setBigInt64(at * 8, value as bigint, true);
    else raw.setFloat32(at * 4, value as number, true);
  });
  return [
    ...shape.flatMap((length) => number(1, length)),
    ...number(2, wide ? INT64 : FLOAT),
    ...text(8, name),
    ...bytes(9, new Uint8Array(raw.buffer)),
  ];
}

function valueInfo({ name, shape }: Graph['input']): Uint8Array[] {
  const dimension = (one: number | string) =>
    bytes(1, ...(typeof one === 'number' ? number(1, one) : text(2, one)));
  const tensorType = [...number(1, FLOAT), ...bytes(2, ...shape.flatMap(dimension))];
  return [...text(1, name), ...bytes(2, ...bytes(1, ...tensorType))];
}

export function onnxBytes({ input, outputs, tensors, nodes }: Graph): Uint8Array {
  const graph = [
    ...nodes.flatMap((one) => bytes(1, ...node(one))),
    ...text(2, 'net'),
    ...[...tensors].flatMap(([name, one]) => bytes(5, ...tensor(name, one))),
    ...bytes(11, ...valueInfo(input)),
    ...outputs.flatMap((one) => bytes(12, ...valueInfo(one))),
  ];
  return Buffer.concat([
    ...number(1, IR_VERSION),
    ...bytes(8, ...text(1, ''), ...number(2, OPERATOR_SET)),
    ...bytes(7, ...graph),
  ]);
}
