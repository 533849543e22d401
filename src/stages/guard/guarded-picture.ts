import type { PictureFacts } from '../../core/picture-facts.js';

export interface GuardedPicture {
  name: string;
  facts: PictureFacts;
  /** How practice.yaml names the camera, if not by maker and model. */
  source?: string;
}
