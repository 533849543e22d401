import { type PDFContext, type PDFDict, PDFHexString, PDFName, type PDFRef } from 'pdf-lib';
import type { Tag } from '../layout/marks.js';

/** A marked-content sequence: page and MCID. */
export interface Place {
  page: number;
  mcid: number;
}

/** Where the marks of each element stand, noted while pages are written. */
export class MarkedPlaces {
  readonly #byTag = new Map<Tag, Place[]>();
  readonly #byPage: Tag[][] = [];

  mark(tag: Tag, page: number): number {
    this.#byPage[page] ??= [];
    const owners = this.#byPage[page]!;
    const mcid = owners.push(tag) - 1;
    this.#byTag.set(tag, [...(this.#byTag.get(tag) ?? []), { page, mcid }]);
    return mcid;
  }

  of(tag: Tag): readonly Place[] {
    return this.#byTag.get(tag) ?? [];
  }

  ownersOn(page: number): readonly Tag[] {
    return this.#byPage[page] ?? [];
  }
}

/**
 * The structure tree and the parent tree that leads from marked content back to it (ISO 32000-1, 14.7). An element
 * with neither marks nor kids is left out.
 */
export function writeStructure(
  context: PDFContext,
  document: Tag,
  places: MarkedPlaces,
  pages: readonly PDFRef[],
): PDFRef {
  const root = context.nextRef();
  const refs = new Map<Tag, PDFRef>();
  const top = writeElement(context, document, root, places, pages, refs);
  const nums = pages.flatMap((_, page) => [page, places.ownersOn(page).map((tag) => refs.get(tag)!)]);
  context.assign(
    root,
    context.obj({
      Type: 'StructTreeRoot',
      K: top ? [top] : [],
      ParentTree: context.register(context.obj({ Nums: nums })),
      ParentTreeNextKey: pages.length,
    }),
  );
  return root;
}

function writeElement(
  context: PDFContext,
  tag: Tag,
  parent: PDFRef,
  places: MarkedPlaces,
  pages: readonly PDFRef[],
  refs: Map<Tag, PDFRef>,
): PDFRef | null {
  const ref = context.nextRef();
  const own = places.of(tag);
  const kids = tag.kids.flatMap((kid) => writeElement(context, kid, ref, places, pages, refs) ?? []);
  if (own.length === 0 && kids.length === 0) return null;
  refs.set(tag, ref);
  const content: (PDFDict | PDFRef)[] = own.map(({ page, mcid }) =>
    context.obj({ Type: 'MCR', Pg: pages[page]!, MCID: mcid }),
  );
  const element = context.obj({ Type: 'StructElem', S: tag.role, P: parent, K: [...content, ...kids] });
  if (own[0]) element.set(PDFName.of('Pg'), pages[own[0].page]!);
  if (tag.alt) element.set(PDFName.of('Alt'), PDFHexString.fromText(tag.alt));
  if (tag.scope) element.set(PDFName.of('A'), context.obj({ O: 'Table', Scope: tag.scope }));
  context.assign(ref, element);
  return ref;
}
