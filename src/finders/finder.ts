/**
 * Finders: pixels come in, places leave. They decide nothing: what is covered or held is the cover stage's business.
 * Model bytes are arguments; nothing here reads a disk or a net. A finder that cannot finish throws, and the picture is
 * held by the caller.
 */

/** [x, y, width, height] in whole pixels of the picture handed in; origin top left, clipped to the picture. */
export type FoundBox = [x: number, y: number, width: number, height: number];

/** 8-bit samples of a whole picture, upright, channels interleaved. */
export interface FinderPicture {
  data: Uint8Array;
  widthPx: number;
  heightPx: number;
  channels: 1 | 3;
}

export interface FoundText {
  /** Grown so that it holds the whole string. */
  box: FoundBox;
  /** As the recogniser read it, "" when it read nothing. Private: may be a name. */
  text: string;
  /** Mean confidence of the reading, 0-1; 0 when nothing was read. */
  confidence: number;
  /** How sure it is that there is text, 0-1. */
  score: number;
  /** What found it: the net, or a rule on pixels. */
  by: 'net' | 'flat' | 'chroma';
}

export interface FoundFace {
  box: FoundBox;
  score: number;
}

export interface TextFinder {
  /** In reading order. */
  find(picture: FinderPicture): Promise<FoundText[]>;
}

export interface FaceFinder {
  find(picture: FinderPicture): Promise<FoundFace[]>;
}
