import type { Look } from './covering.js';

/** What was seen, then what to do. Never what the text says. */
export function lookSentence({ code, box }: Look): string {
  const at = `[${box.join(', ')}]`;
  switch (code) {
    case 'doubtful-cover':
      return `At ${at} something was covered that may not be text. Look at the picture; if it must be seen, write keep: with that box, by: and why: in its line of the sidecar, else cover: in the same way.`;
    case 'cover-unplaced':
      return `At ${at} text was covered in the middle of the radiograph, and no points tell what lies there. Look at the picture; write cover: with that box, by: and why: if nothing that matters is hidden, keep: if something is.`;
    case 'keep-unsigned':
      return `The keep: box ${at} names nobody, so it does not count and text in it was covered. Write by: with your initials, and why:.`;
    case 'text-kept':
      return `The keep: box ${at} gives no reason. Look whether the text in it identifies nobody, then write why:.`;
  }
}
