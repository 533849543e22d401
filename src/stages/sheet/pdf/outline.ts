import { type PDFContext, type PDFDict, PDFHexString, PDFName, type PDFRef } from 'pdf-lib';
import type { Bookmark } from '../layout/flow.js';

interface Entry {
  bookmark: Bookmark;
  ref: PDFRef;
  kids: Entry[];
}

/** Bookmarks: the title, and the sections under it. Null when there are none. */
export function writeOutline(
  context: PDFContext,
  bookmarks: readonly Bookmark[],
  pages: readonly PDFRef[],
  heightPt: number,
): PDFRef | null {
  if (bookmarks.length === 0) return null;
  const top: Entry[] = [];
  for (const bookmark of bookmarks) {
    const entry = { bookmark, ref: context.nextRef(), kids: [] };
    const last = top.at(-1);
    if (bookmark.level === 2 && last?.bookmark.level === 1) last.kids.push(entry);
    else top.push(entry);
  }
  const root = context.nextRef();
  const writeLevel = (entries: readonly Entry[], parent: PDFRef): void => {
    entries.forEach((entry, index) => {
      const { title, page, yPt } = entry.bookmark;
      const dict = context.obj({
        Title: PDFHexString.fromText(title),
        Parent: parent,
        Dest: [pages[page]!, 'XYZ', null, heightPt - yPt + 6, null],
      });
      if (index > 0) dict.set(PDFName.of('Prev'), entries[index - 1]!.ref);
      if (index < entries.length - 1) dict.set(PDFName.of('Next'), entries[index + 1]!.ref);
      writeEnds(dict, entry.kids);
      context.assign(entry.ref, dict);
      writeLevel(entry.kids, entry.ref);
    });
  };
  const writeEnds = (dict: PDFDict, entries: readonly Entry[]) => {
    if (entries.length === 0) return;
    dict.set(PDFName.of('First'), entries[0]!.ref);
    dict.set(PDFName.of('Last'), entries.at(-1)!.ref);
    dict.set(PDFName.of('Count'), context.obj(entries.length));
  };
  const outlines = context.obj({ Type: 'Outlines' });
  writeEnds(outlines, top);
  context.assign(root, outlines);
  writeLevel(top, root);
  return root;
}
