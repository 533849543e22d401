/**
 * What a page is made of before it becomes a PDF. Lengths are PDF points (1/72 inch), origin top left, y downward;
 * a text's y is its baseline. A mark with a tag is content and belongs to that element of the structure tree; one
 * without is an artifact (a rule, a panel, the footer) that a screen reader skips.
 */
export type Mark = TextMark | RuleMark | PanelMark | PictureMark | ShapeMark;

export type Weight = 'regular' | 'semibold';

export interface TextMark {
  kind: 'text';
  tag: Tag | null;
  xPt: number;
  yPt: number;
  sizePt: number;
  weight: Weight;
  colour: Colour;
  text: string;
}

export interface RuleMark {
  kind: 'rule';
  from: { xPt: number; yPt: number };
  to: { xPt: number; yPt: number };
  strokePt: number;
  colour: Colour;
}

export interface PanelMark {
  kind: 'panel';
  box: Rect;
  colour: Colour;
}

export interface PictureMark {
  kind: 'picture';
  tag: Tag;
  /** Number of the picture within the case. */
  number: number;
  box: Rect;
}

/** A closed or open outline of the drawn diagram. */
export interface ShapeMark {
  kind: 'shape';
  tag: Tag;
  points: { xPt: number; yPt: number }[];
  closed: boolean;
  fill: Colour | null;
  stroke: Colour | null;
  strokePt: number;
  dashPt: number[];
}

export interface Rect {
  xPt: number;
  yPt: number;
  widthPt: number;
  heightPt: number;
}

/** Red, green, blue in 0-1 (sRGB). */
export type Colour = readonly [number, number, number];

const hex = (value: number): Colour => [(value >> 16) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];

/** Near-black text that survives a photocopier; one grey for rules, one dark accent. Contrast is tested. */
export const INK = hex(0x15191e);
export const QUIET = hex(0x2b3037);
export const ACCENT = hex(0x173f57);
export const LINE = hex(0xaeb4bb);
export const PANEL = hex(0xf0f2f4);
export const TINT = hex(0xe6eaee);
export const WHITE = hex(0xffffff);

/** Standard structure types of ISO 32000-1, 14.8.4. */
export type Role =
  | 'Document'
  | 'H1'
  | 'H2'
  | 'P'
  | 'Figure'
  | 'Caption'
  | 'Table'
  | 'TR'
  | 'TH'
  | 'TD'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody';

/** One element of the structure tree: its own marks come before its kids. */
export interface Tag {
  role: Role;
  kids: Tag[];
  alt?: string;
  scope?: 'Column' | 'Row';
}

export const tag = (role: Role, kids: Tag[] = []): Tag => ({ role, kids });

/** The same mark, moved. */
export function moved<M extends Mark>(mark: M, dxPt: number, dyPt: number): M {
  const point = (at: { xPt: number; yPt: number }) => ({ xPt: at.xPt + dxPt, yPt: at.yPt + dyPt });
  switch (mark.kind) {
    case 'text':
      return { ...mark, ...point(mark) };
    case 'rule':
      return { ...mark, from: point(mark.from), to: point(mark.to) };
    case 'panel':
    case 'picture':
      return { ...mark, box: { ...mark.box, ...point(mark.box) } };
    case 'shape':
      return { ...mark, points: mark.points.map(point) };
  }
}
