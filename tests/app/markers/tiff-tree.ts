/** What a field holds: its bytes, another directory, or data that it points to. */
type TreeValue = Buffer | { ifd: Ifd } | { data: Buffer };

/** Type numbers of TIFF 6.0, section 2: 1 BYTE, 2 ASCII, 3 SHORT, 4 LONG, 5 RATIONAL, 7 UNDEFINED. */
export type TreeField = [tag: number, type: 1 | 2 | 3 | 4 | 5 | 7, value: TreeValue];

export interface Ifd {
  fields: TreeField[];
  /** Bytes between this directory and the next that nothing points to. */
  gap?: Buffer;
  next?: Ifd;
}

const UNIT = { 1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 7: 1 } as const;

/** A TIFF file or EXIF block of nested directories; `gap`: bytes between the header and the first of them. */
export function tiffTree(
  ifd: Ifd,
  { big = false, gap = Buffer.alloc(0) }: { big?: boolean; gap?: Buffer } = {},
): Buffer {
  const head = Buffer.from(big ? 'MM\0*\0\0\0\0' : 'II*\0\0\0\0\0', 'latin1');
  const from = 8 + gap.length + (gap.length % 2);
  put(head, big, from, 4, 4);
  return Buffer.concat([head, gap, Buffer.alloc(gap.length % 2), directory(ifd, from, big)]);
}

function put(bytes: Buffer, big: boolean, value: number, at: number, size: number): void {
  if (big) bytes.writeUIntBE(value, at, size);
  else bytes.writeUIntLE(value, at, size);
}

function directory({ fields, gap, next }: Ifd, at: number, big: boolean): Buffer {
  const sorted = fields.toSorted(([a], [b]) => a - b);
  const head = Buffer.alloc(2 + 12 * sorted.length + 4);
  const rest: Buffer[] = [];
  let free = at + head.length;
  const keep = (bytes: Buffer): number => {
    const place = free;
    rest.push(bytes, Buffer.alloc(bytes.length % 2));
    free += bytes.length + (bytes.length % 2);
    return place;
  };
  put(head, big, sorted.length, 0, 2);
  sorted.forEach(([tag, type, value], index) => {
    const place = 2 + 12 * index;
    const unit = UNIT[type];
    put(head, big, tag, place, 2);
    put(head, big, type, place + 2, 2);
    put(head, big, Buffer.isBuffer(value) ? Math.ceil(value.length / unit) : 1, place + 4, 4);
    if (!Buffer.isBuffer(value))
      put(head, big, keep('ifd' in value ? directory(value.ifd, free, big) : value.data), place + 8, 4);
    else if (value.length <= 4) value.copy(head, place + 8);
    else
      put(
        head,
        big,
        keep(Buffer.concat([value, Buffer.alloc((unit - (value.length % unit)) % unit)])),
        place + 8,
        4,
      );
  });
  if (gap) keep(gap);
  if (next) put(head, big, keep(directory(next, free, big)), head.length - 4, 4);
  return Buffer.concat([head, ...rest]);
}

/** SHORT and LONG values in the byte order of the file. */
export function numbers(type: 3 | 4, big: boolean, ...values: number[]): Buffer {
  const size = UNIT[type];
  const bytes = Buffer.alloc(size * values.length);
  values.forEach((value, index) => {
    put(bytes, big, value, index * size, size);
  });
  return bytes;
}
