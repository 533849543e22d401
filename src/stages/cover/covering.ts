import type { Reason } from '../../core/reasons.js';
import type { FoundBox, FoundText } from '../../finders/finder.js';
import type { ImageEntry } from '../../trade/visit-document.js';

export interface CoverInput {
  texts: readonly FoundText[];
  entry: Pick<ImageEntry, 'view' | 'cover' | 'keep' | 'paths' | 'lesion' | 'landmarks'>;
  /** Fixed zones of this picture's source, from practice.yaml. */
  zones: readonly FoundBox[];
  widthPx: number;
  heightPx: number;
}

export interface Cover {
  box: FoundBox;
  kind: 'text' | 'zone' | 'by-hand';
  /** True when the finder was not sure; the picture then carries a look. */
  doubtful: boolean;
}

/** Something a person should look at on a kept picture. Settled by cover:, keep: or a review. */
export interface Look {
  /** `keep-unsigned`: a keep: without by:, which does not count. `text-kept`: one without why:, which does. */
  code: 'doubtful-cover' | 'text-kept' | 'keep-unsigned' | 'cover-unplaced';
  box: FoundBox;
}

export interface Covering {
  covers: Cover[];
  looks: Look[];
  /** Not null: a person decides before anything is made. */
  hold: Reason | null;
}
