/**
 * The net that finds faces, a single-shot detector on MobileNet (A. Howard et al. 2017, arXiv:1704.04861; W. Liu et al.
 * 2016, arXiv:1512.02325), written as ONNX from the weights that a package carries, so that one runtime serves all
 * finders. In: pictures of 512 x 512, channels first, -1 to 1. Out: for each of 5118 places of the grid how a face there
 * differs from its anchor, and how likely it is none, a face, or the unused third class.
 */
import { type Node, onnxBytes, type Tensor } from './onnx-bytes.js';
import type { Weight } from './weights.js';

export const INPUT_PX = 512;
export const PLACES = 5118;
export const CLASSES = 3;

/** Of the layers that normalise; as the net was trained. */
const EPSILON = 0.0010000000474974513;
/** Pairs of layers, and those among them that halve the picture. */
const PAIRS = 13;
const HALVING = new Set([2, 4, 6, 12]);
/** The deepest layers that look at an area of half the side. */
const EXTRAS = 8;

interface Drawing {
  weights: ReadonlyMap<string, Weight>;
  tensors: Map<string, Tensor>;
  nodes: Node[];
}

function weight({ weights }: Drawing, name: string): Weight {
  const found = weights.get(name);
  if (!found) throw new Error('a layer of the face net is missing');
  return found;
}

/** From [height, width, in, out] to [out, in, height, width]; of a layer by channel, [height, width, in, 1], to [in, 1, ...]. */
function kernelFirst({ shape, values }: Weight, byChannel: boolean): Tensor {
  const [height, width, fan, out] = shape as [number, number, number, number];
  const [first, second] = byChannel ? [fan, out] : [out, fan];
  const turned = new Float32Array(values.length);
  let to = 0;
  for (let a = 0; a < first; a += 1) {
    for (let b = 0; b < second; b += 1) {
      const [i, o] = byChannel ? [a, b] : [b, a];
      for (let at = 0; at < height * width; at += 1) turned[to++] = values[(at * fan + i) * out + o]!;
    }
  }
  return { shape: [first, second, height, width], values: turned };
}

interface Layer {
  name: string;
  kernel: Tensor;
  bias: Float32Array;
  stride: 1 | 2;
  groups: number;
  /** Cut at 0 and 6. */
  cut: boolean;
}

/** Adds one convolution that keeps the size or halves it; gives the name of its output. */
function addLayer(
  drawing: Drawing,
  input: string,
  { name, kernel, bias, stride, groups, cut }: Layer,
): string {
  const { tensors, nodes } = drawing;
  tensors.set(`${name}/kernel`, kernel);
  tensors.set(`${name}/bias`, { shape: [bias.length], values: bias });
  const [, , height, width] = kernel.shape as [number, number, number, number];
  nodes.push({
    operator: 'Conv',
    inputs: [input, `${name}/kernel`, `${name}/bias`],
    output: `${name}/sum`,
    attributes: {
      auto_pad: 'SAME_UPPER',
      kernel_shape: [height, width],
      strides: [stride, stride],
      group: groups,
    },
  });
  if (!cut) return `${name}/sum`;
  nodes.push({ operator: 'Clip', inputs: [`${name}/sum`, 'zero', 'six'], output: name });
  return name;
}

function addPlain(drawing: Drawing, input: string, name: string, stride: 1 | 2): string {
  const kernel = kernelFirst(weight(drawing, `${name}/weights`), false);
  const bias = weight(drawing, `${name}/convolution_bn_offset`).values;
  return addLayer(drawing, input, { name, kernel, bias, stride, groups: 1, cut: true });
}

/** The normalisation that follows such a layer is multiplied into its weights. */
function addByChannel(drawing: Drawing, input: string, name: string, stride: 1 | 2): string {
  const plain = kernelFirst(weight(drawing, `${name}/depthwise_weights`), true);
  const norm = (what: string): Float32Array => weight(drawing, `${name}/BatchNorm/${what}`).values;
  const [gamma, beta, mean, variance] = [
    norm('gamma'),
    norm('beta'),
    norm('moving_mean'),
    norm('moving_variance'),
  ];
  const gain = gamma.map((one, at) => one / Math.sqrt(variance[at]! + EPSILON));
  const area = plain.values.length / gain.length;
  const kernel = {
    ...plain,
    values: (plain.values as Float32Array).map((one, at) => one * gain[Math.floor(at / area)]!),
  };
  const bias = beta.map((one, at) => one - mean[at]! * gain[at]!);
  return addLayer(drawing, input, { name, kernel, bias, stride, groups: gain.length, cut: true });
}

/** What one layer says of its places: `size` numbers each, in the order row, column, anchor. */
function addPredictor(drawing: Drawing, input: string, name: string, size: number): string {
  const kernel = kernelFirst(weight(drawing, `${name}/weights`), false);
  const bias = weight(drawing, `${name}/biases`).values;
  const sum = addLayer(drawing, input, { name, kernel, bias, stride: 1, groups: 1, cut: false });
  const { tensors, nodes } = drawing;
  nodes.push({
    operator: 'Transpose',
    inputs: [sum],
    output: `${name}/last`,
    attributes: { perm: [0, 2, 3, 1] },
  });
  tensors.set(`${name}/shape`, { shape: [3], values: BigInt64Array.from([0n, -1n, BigInt(size)]) });
  nodes.push({ operator: 'Reshape', inputs: [`${name}/last`, `${name}/shape`], output: `${name}/list` });
  return `${name}/list`;
}

/** The layers that places are read from, finest first. */
function addBody(drawing: Drawing): string[] {
  let last = addPlain(drawing, 'pictures', 'MobilenetV1/Conv2d_0_pointwise', 2);
  const read: string[] = [];
  for (let pair = 1; pair <= PAIRS; pair += 1) {
    last = addByChannel(drawing, last, `MobilenetV1/Conv2d_${pair}_depthwise`, HALVING.has(pair) ? 2 : 1);
    last = addPlain(drawing, last, `MobilenetV1/Conv2d_${pair}_pointwise`, 1);
    if (pair === 11 || pair === PAIRS) read.push(last);
  }
  for (let extra = 0; extra < EXTRAS; extra += 1) {
    last = addPlain(drawing, last, `Prediction/Conv2d_${extra}_pointwise`, extra % 2 === 0 ? 1 : 2);
    if (extra % 2 === 1) read.push(last);
  }
  return read;
}

/** Bytes of an ONNX model; throws when a weight is missing. */
export function faceNet(weights: ReadonlyMap<string, Weight>): Uint8Array {
  const drawing: Drawing = { weights, tensors: new Map(), nodes: [] };
  drawing.tensors.set('zero', { shape: [], values: Float32Array.from([0]) });
  drawing.tensors.set('six', { shape: [], values: Float32Array.from([6]) });
  const read = addBody(drawing);
  const lists = (what: string, size: number): string[] =>
    read.map((layer, at) => addPredictor(drawing, layer, `Prediction/BoxPredictor_${at}/${what}`, size));
  const join = (inputs: string[], output: string): void =>
    void drawing.nodes.push({ operator: 'Concat', inputs, output, attributes: { axis: 1 } });
  join(lists('BoxEncodingPredictor', 4), 'boxes');
  join(lists('ClassPredictor', CLASSES), 'classes');
  return onnxBytes({
    input: { name: 'pictures', shape: ['count', 3, INPUT_PX, INPUT_PX] },
    outputs: [
      { name: 'boxes', shape: ['count', PLACES, 4] },
      { name: 'classes', shape: ['count', PLACES, CLASSES] },
    ],
    ...drawing,
  });
}
