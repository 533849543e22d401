import { isSameCanal } from '../canals.js';
import { innerSide, mesialSideOnFilm } from '../teeth.js';
import type { ToothRef } from '../tooth-ref.js';
import type { CanalEntry } from '../visit-document.js';
import { accessOutline, chamberFloor } from './chamber.js';
import { bowed } from './curves.js';
import { grooveLines } from './groove-lines.js';
import { CAPITAL_HEIGHT, type LabelPlace, placeLabels } from './label-places.js';
import { cejOutline, toothOutline } from './outlines.js';
import { type PlacedOrifice, placeOrifices } from './place-orifices.js';
import { type Bounds, boundsOf, isInside, type PointMm } from './polygon.js';
import { type Transform, toDiagramPose } from './pose.js';

/**
 * A schematic of the chamber floor with the recorded canals, ready to draw: millimetres of the tooth, origin at the
 * lower left, x right from 0 to `widthMm`, y up from 0 to `heightMm`. Buccal is up in the upper jaw and down in the
 * lower, mesial lies as on a periapical film. Every outline is dense enough to be drawn as straight pieces.
 */
export interface OrificeDiagram {
  widthMm: number;
  heightMm: number;
  /** Where the centre of the crown lies. */
  centre: PointMm;
  /** Type size that the places of labels and letters assume. */
  textMm: number;
  /** Crown from the occlusal side. */
  outline: PointMm[];
  /** The neck under it. */
  cej: PointMm[];
  access: PointMm[];
  /** Empty when a single canal is recorded. */
  floor: PointMm[];
  /** Open lines, to be drawn under the orifices. */
  grooves: PointMm[][];
  orifices: DiagramOrifice[];
  /** Two recorded canals that join; `path` runs from edge to edge. */
  joins: { from: string; to: string; path: PointMm[] }[];
  /** M, D, B and P or L at the edges; x the middle of the letter, y its baseline. */
  letters: { text: string; x: number; y: number }[];
  /** Recorded canals without a place: to be named beside the diagram. */
  unplaced: string[];
}

export interface DiagramOrifice {
  label: string;
  x: number;
  y: number;
  /** Half-axes; for a slit half its width. */
  rx: number;
  ry: number;
  /** Closed outline of the mark: an ellipse or a slit. */
  shape: PointMm[];
  filled: boolean;
  labelAt: LabelPlace;
}

const TEXT_SHARE = 0.095;
const MARGIN_IN_TEXT = 1.45;
const JOIN_BOW_MM = 0.35;

/** Null for a supernumerary tooth, whose form nobody knows, and when no canal is recorded. */
export function orificeDiagram(tooth: ToothRef, canals: readonly CanalEntry[]): OrificeDiagram | null {
  if (!('fdi' in tooth) || canals.length === 0) return null;
  const { fdi } = tooth;
  const { orifices, unplaced } = placeOrifices(fdi, canals);
  const crown = toothOutline(fdi).map(toDiagramPose(fdi));
  const bounds = boundsOf(crown);
  const textMm = TEXT_SHARE * Math.max(bounds.right - bounds.left, bounds.top - bounds.bottom);
  const margin = MARGIN_IN_TEXT * textMm;
  const centre = { x: margin - bounds.left, y: margin - bounds.bottom };
  const pose = toDiagramPose(fdi);
  const place: Transform = (point) => {
    const posed = pose(point);
    return { x: posed.x + centre.x, y: posed.y + centre.y };
  };
  const frame = {
    widthMm: bounds.right - bounds.left + 2 * margin,
    heightMm: bounds.top - bounds.bottom + 2 * margin,
  };
  const letters = edgeLetters(fdi, frame, textMm, centre);
  const parts = {
    outline: toothOutline(fdi).map(place),
    cej: cejOutline(fdi).map(place),
    access: orifices.length > 0 ? accessOutline(fdi, orifices).map(place) : [],
    floor: chamberFloor(fdi, orifices).map(place),
    grooves: grooveLines(fdi, orifices).map((line) => line.map(place)),
  };
  const marks = orifices.map((one) => ({ ...one, ...place(one), shape: one.shape.map(place) }));
  const joins = joinsBetween(fdi, canals, marks);
  return {
    ...frame,
    centre,
    textMm,
    ...parts,
    orifices: withLabels(marks, parts, joins, letters, textMm),
    joins,
    letters,
    unplaced,
  };
}

type Parts = Pick<OrificeDiagram, 'outline' | 'cej' | 'access' | 'grooves'>;

function withLabels(
  marks: readonly PlacedOrifice[],
  parts: Parts,
  joins: OrificeDiagram['joins'],
  letters: OrificeDiagram['letters'],
  textMm: number,
): DiagramOrifice[] {
  const labels = placeLabels({
    marks,
    crown: parts.outline,
    access: parts.access,
    lines: [
      { points: parts.outline, price: 12 },
      { points: parts.access, price: 6 },
      { points: parts.cej, price: 2 },
      ...[...parts.grooves, ...joins.map((join) => join.path)].map((points) => ({ points, price: 8 })),
    ],
    taken: letters.map((letter) => letterBox(letter, textMm)),
    textMm,
  });
  return marks.map(({ label, x, y, rx, ry, shape, filled }, at) => ({
    label,
    x,
    y,
    rx,
    ry,
    shape,
    filled,
    labelAt: labels[at] as LabelPlace,
  }));
}

export const letterBox = (letter: PointMm, textMm: number): Bounds => ({
  left: letter.x - textMm * 0.45,
  right: letter.x + textMm * 0.45,
  bottom: letter.y,
  top: letter.y + CAPITAL_HEIGHT * textMm,
});

function edgeLetters(
  fdi: number,
  frame: { widthMm: number; heightMm: number },
  textMm: number,
  centre: PointMm,
): OrificeDiagram['letters'] {
  const inset = textMm * 0.55;
  const middle = (CAPITAL_HEIGHT * textMm) / 2;
  const [left, right] = mesialSideOnFilm(fdi) === 'left' ? ['M', 'D'] : ['D', 'M'];
  const inner = innerSide(fdi);
  const [top, bottom] = inner === 'P' ? ['B', 'P'] : ['L', 'B'];
  return [
    { text: left as string, x: inset, y: centre.y - middle },
    { text: right as string, x: frame.widthMm - inset, y: centre.y - middle },
    { text: top as string, x: centre.x, y: frame.heightMm - inset - middle },
    { text: bottom as string, x: centre.x, y: inset - middle },
  ];
}

/** Only joins between two placed marks; they are told in words in any case. */
function joinsBetween(
  fdi: number,
  canals: readonly CanalEntry[],
  marks: readonly PlacedOrifice[],
): OrificeDiagram['joins'] {
  const { left, right, bottom, top } = boundsOf(marks);
  const middle = { x: (left + right) / 2, y: (bottom + top) / 2 };
  return canals.flatMap(({ canal, joins }) => {
    const from = marks.find((mark) => mark.label === canal);
    const to = joins && marks.find((mark) => isSameCanal(fdi, mark.label, joins.canal));
    if (!from || !to || from === to) return [];
    const path = bowed(from, to, towards(middle, from, to) * JOIN_BOW_MM).filter(
      (point) => !isInside(from.shape, point) && !isInside(to.shape, point),
    );
    return path.length > 1 ? [{ from: from.label, to: to.label, path }] : [];
  });
}

/** +1 when `middle` lies to the left of the way from `from` to `to`, else -1: a join bows into the chamber. */
const towards = (middle: PointMm, from: PointMm, to: PointMm): number =>
  (to.x - from.x) * (middle.y - from.y) - (to.y - from.y) * (middle.x - from.x) >= 0 ? 1 : -1;
