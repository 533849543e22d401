/** What stands in radiographs and is no text: borders, grids, rulers, implants, wires, bur and clamp shapes, arrows. */
import sharp from 'sharp';
import type { Dice } from './dice.js';
import type { Samples } from './sample-pictures.js';

interface Room {
  width: number;
  height: number;
}

const grey = (value: number): string => `rgb(${value},${value},${value})`;

function border(dice: Dice, { width, height }: Room): string {
  const edge = dice.whole(4, Math.round(Math.min(width, height) / 22));
  const corner = dice.whole(0, edge * 3);
  const tone = grey(dice.one([0, 0, 4, 12, 255, 240]));
  const frame = `M0 0H${width}V${height}H0Z`;
  const [w, h] = [width - 2 * edge, height - 2 * edge];
  const hole = `M${edge + corner} ${edge}h${w - 2 * corner}q${corner} 0 ${corner} ${corner}v${h - 2 * corner}q0 ${corner} ${-corner} ${corner}h${2 * corner - w}q${-corner} 0 ${-corner} ${-corner}v${2 * corner - h}q0 ${-corner} ${corner} ${-corner}Z`;
  return `<path fill-rule="evenodd" fill="${tone}" d="${frame}${hole}"/>`;
}

function grid(dice: Dice, { width, height }: Room): string {
  const step = dice.between(14, 60);
  const lines: string[] = [];
  for (let x = step / 2; x < width; x += step) lines.push(`M${x} 0V${height}`);
  for (let y = step / 2; y < height; y += step) lines.push(`M0 ${y}H${width}`);
  return `<path stroke="${grey(dice.one([0, 255]))}" stroke-opacity="${dice.between(0.15, 0.5)}" d="${lines.join('')}"/>`;
}

function ruler(dice: Dice, { width, height }: Room): string {
  const step = dice.between(8, 24);
  const x = width - dice.between(10, 40);
  const ticks = Array.from({ length: 31 }, (_, i) => {
    const y = height * 0.15 + i * step;
    return y < height * 0.95 ? `M${x} ${y}h${i % 10 === 0 ? -22 : i % 5 === 0 ? -15 : -8}` : '';
  });
  return `<path fill="none" stroke="${grey(dice.one([255, 220, 180]))}" stroke-width="${dice.between(1, 2)}" d="${ticks.join('')}M${x} ${height * 0.15}v${Math.min(30 * step, height * 0.8)}"/>`;
}

function implant(dice: Dice, { width, height }: Room): string {
  const length = height * dice.between(0.3, 0.5);
  const wide = length * dice.between(0.24, 0.34);
  const threads = dice.whole(8, 16);
  const step = length / threads;
  const right = Array.from(
    { length: threads },
    () => `l${wide * 0.09} ${step / 2}l${-wide * 0.09} ${step / 2}`,
  );
  const left = Array.from(
    { length: threads },
    () => `l${-wide * 0.09} ${-step / 2}l${wide * 0.09} ${-step / 2}`,
  );
  const at = `translate(${width * dice.between(0.2, 0.7)} ${height * dice.between(0.15, 0.45)}) rotate(${dice.between(-14, 14)})`;
  return `<path transform="${at}" fill="${grey(dice.whole(215, 250))}" d="M0 0h${wide}${right.join('')}q${-wide / 2} ${wide * 0.5} ${-wide} 0${left.join('')}Z"/>`;
}

function wire(dice: Dice, { width, height }: Room): string {
  const y = height * dice.between(0.2, 0.8);
  const brackets = Array.from({ length: dice.whole(0, 5) }, (_, i) => {
    const size = height * 0.04;
    return `<rect x="${width * (0.1 + 0.18 * i)}" y="${y - size / 2}" width="${size}" height="${size}" fill="${grey(238)}"/>`;
  });
  const bend = dice.between(-0.1, 0.1) * height;
  return `<path fill="none" stroke="${grey(235)}" stroke-width="${dice.between(3, 9)}" d="M0 ${y}Q${width / 2} ${y + bend} ${width} ${y}"/>${brackets.join('')}`;
}

function clamp(dice: Dice, { width, height }: Room): string {
  const [x, y] = [width * dice.between(0.2, 0.8), height * dice.between(0.2, 0.6)];
  const size = height * dice.between(0.1, 0.2);
  return `<g fill="none" stroke="${grey(dice.whole(225, 252))}" stroke-width="${size / 6}"><path d="M${x - size} ${y}q${size} ${-size * 1.2} ${2 * size} 0"/><circle cx="${x - size}" cy="${y + size / 4}" r="${size / 4}"/><circle cx="${x + size}" cy="${y + size / 4}" r="${size / 4}"/></g>`;
}

function arrow(dice: Dice, { width, height }: Room): string {
  const at = `translate(${width * dice.between(0.2, 0.8)} ${height * dice.between(0.2, 0.8)}) rotate(${dice.whole(0, 359)})`;
  const tone = dice.one(['#ff3b30', '#ffd400', '#00c8ff', 'white']);
  return `<path transform="${at}" fill="none" stroke="${tone}" stroke-width="3" d="M0 0H60M46 -9L60 0L46 9"/>`;
}

const PIECES = { grid: 0.08, ruler: 0.15, implant: 0.15, wire: 0.1, clamp: 0.12, arrow: 0.08 };
const DRAW = { grid, ruler, implant, wire, clamp, arrow };

/** Draws into a copy; a picture with a coloured mark comes back with three channels. */
export async function drawFurniture(ground: Samples, dice: Dice, round: boolean): Promise<Samples> {
  const room = { width: ground.widthPx, height: ground.heightPx };
  const bodies = (Object.keys(PIECES) as (keyof typeof PIECES)[])
    .filter((piece) => dice.chance(PIECES[piece]))
    .map((piece) => DRAW[piece](dice, room));
  if (!round && dice.chance(0.3)) bodies.push(border(dice, room));
  if (bodies.length === 0) return ground;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${room.width}" height="${room.height}">${bodies.join('')}</svg>`;
  const coloured = svg.includes('#ff') || svg.includes('#00');
  const { data } = await sharp(ground.data, { raw: { ...room, channels: ground.channels } })
    .toColourspace('srgb')
    .composite([{ input: Buffer.from(svg) }])
    .removeAlpha()
    .toColourspace(coloured ? 'srgb' : 'b-w')
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true });
  return { ...ground, data: new Uint8Array(data), channels: coloured ? 3 : 1 };
}
