import { describe, expect, it } from 'vitest';
import {
  type FolderScan,
  InboxJudge,
  type InboxScan,
  type Print,
  type ScannedFile,
  statusSentence,
} from '../../src/practice/index.js';

type Files = Record<string, number | Partial<Print>>;

const printOf = (file: number | Partial<Print>): Print => ({
  size: 1,
  mtimeNs: 1n,
  ctimeNs: 1n,
  ino: 1n,
  dev: 1n,
  ...(typeof file === 'number' ? { size: file } : file),
});

function folderOf(name: string, files: Files): FolderScan {
  const pathBytes = Buffer.from(`/inbox/${name}`);
  const scan: FolderScan = { name, pathBytes, entries: [], ignored: [] };
  for (const [file, given] of Object.entries(files)) {
    const print = printOf(given);
    const found = { name: file, pathBytes: Buffer.from(`/inbox/${name}/${file}`), print };
    if (file.endsWith('.part')) scan.ignored.push({ name: file, partial: true, print });
    else if (print.size === 0)
      scan.entries.push({ ...found, kind: 'refused', reason: { code: 'empty-file' } });
    else scan.entries.push({ ...found, kind: 'file' } satisfies ScannedFile);
  }
  return scan;
}

const seen = (
  folders: Record<string, Files>,
  more: Partial<Extract<InboxScan, { kind: 'seen' }>> = {},
): InboxScan => ({
  kind: 'seen',
  identity: '1:1',
  loose: [],
  refused: [],
  folders: Object.entries(folders).map(([name, files]) => ({
    name,
    key: `/inbox/${name}`,
    scan: { kind: 'kept', value: folderOf(name, files) },
  })),
  ...more,
});

/** Feeds a scan every two seconds and tells which folders were handed out at which second. */
function play(judge: InboxJudge, scans: readonly InboxScan[], fromSeconds = 0): string[] {
  return scans.flatMap((scan, at) => {
    const atMs = (fromSeconds + at * 2) * 1000;
    return judge.feed(atMs, scan).settled.map(({ name }) => `${name}@${atMs / 1000}`);
  });
}

const repeat = (scan: InboxScan, times: number): InboxScan[] => Array(times).fill(scan) as InboxScan[];

describe('the judge of the inbox', () => {
  it('hands a folder out once it has lain still for the quiet time, and only once', () => {
    expect(play(new InboxJudge({ quietMs: 15_000 }), repeat(seen({ v: { a: 1, b: 2 } }), 40))).toEqual([
      'v@16',
    ]);
  });

  it('waits through a slow copy whose pauses are longer than a scan, as long as they are shorter than quiet', () => {
    const judge = new InboxJudge({ quietMs: 15_000 });
    const growing = [1, 2, 3, 4].flatMap((size) => repeat(seen({ v: { a: size } }), 7));
    expect(play(judge, growing)).toEqual([]);
    expect(play(judge, repeat(seen({ v: { a: 4 } }), 3), 56)).toEqual(['v@58']);
  });

  it('is not fooled by a file that has its full size before it has its content', () => {
    const filling = [1n, 2n, 3n].flatMap((mtimeNs) => repeat(seen({ v: { a: { size: 9, mtimeNs } } }), 6));
    expect(play(new InboxJudge({ quietMs: 15_000 }), filling)).toEqual([]);
  });

  it('judges a folder as a whole: one file that still grows keeps the others waiting', () => {
    const scans = Array.from({ length: 12 }, (_, at) => seen({ v: { a: 1, b: at + 1 }, w: { c: 1 } }));
    expect(play(new InboxJudge({ quietMs: 15_000 }), scans)).toEqual(['w@16']);
  });

  it('waits for a transfer under a temporary name, and takes its final name as the folder', () => {
    const judge = new InboxJudge({ quietMs: 4000 });
    const copying = [1, 2, 3, 4, 5].map((size) => seen({ v: { a: 1, 'b.jpg.part': size } }));
    expect(play(judge, copying)).toEqual([]);
    expect(play(judge, repeat(seen({ v: { a: 1, 'b.jpg': 5 } }), 4), 10)).toEqual(['v@14']);
  });

  it('does not hand a folder out anew because a stale temporary file went away', () => {
    const judge = new InboxJudge({ quietMs: 4000 });
    expect(play(judge, repeat(seen({ v: { a: 1, 'b.part': 5 } }), 4))).toEqual(['v@4']);
    expect(play(judge, repeat(seen({ v: { a: 1 } }), 4), 8)).toEqual([]);
  });

  it.each<[string, Files]>([
    ['a late picture', { a: 1, b: 1 }],
    ['a picture removed', {}],
    ['a picture saved over', { a: { size: 1, ino: 2n, ctimeNs: 2n } }],
    ['the same size and modified time, another file', { a: { size: 1, ino: 3n } }],
  ])('hands a folder out again after %s, once that lies still', (_, files) => {
    const judge = new InboxJudge({ quietMs: 4000 });
    play(judge, repeat(seen({ v: { a: 1, z: 1 } }), 3));
    expect(play(judge, repeat(seen({ v: { z: 1, ...files } }), 5), 6)).toEqual(['v@10']);
  });

  it('waits longer for an empty file, then hands it out with its reason', () => {
    const judge = new InboxJudge({ quietMs: 4000, emptyFileMs: 20_000 });
    expect(play(judge, repeat(seen({ v: { a: 1, b: 0 } }), 15))).toEqual(['v@20']);
  });

  it('waits for pictures in an empty folder for ever', () => {
    const judge = new InboxJudge({ quietMs: 0 });
    expect(play(judge, repeat(seen({ v: {} }), 10))).toEqual([]);
    expect(judge.isWaiting()).toBe(false);
  });

  it('measures by its steady clock alone: times in files from other years change nothing', () => {
    const odd = seen({ v: { a: { mtimeNs: 4_000_000_000_000_000_000n }, b: { mtimeNs: 1n } } });
    expect(play(new InboxJudge({ quietMs: 4000 }), repeat(odd, 4))).toEqual(['v@4']);
  });

  it('calls a renamed folder new, and knows nothing of one that went and came back', () => {
    const judge = new InboxJudge({ quietMs: 0 });
    expect(
      play(judge, [seen({ v: { a: 1 } }), seen({ w: { a: 1 } }), seen({}), seen({ v: { a: 1 } })]),
    ).toEqual(['v@0', 'w@2', 'v@6']);
  });

  it('says missing, never empty, and starts nothing anew when the inbox comes back', () => {
    const judge = new InboxJudge({ quietMs: 0 });
    judge.feed(0, seen({ v: { a: 1 } }));
    const gone = judge.feed(2000, { kind: 'missing' });
    expect(gone).toEqual({
      settled: [],
      statuses: [{ kind: 'inbox-missing' }],
      isTrouble: true,
      isNewInbox: false,
    });
    expect(judge.feed(4000, { kind: 'missing' }).statuses).toEqual([]);
    expect(judge.feed(5000, { kind: 'unreadable', what: 'access' }).statuses).toEqual([
      { kind: 'inbox-unreadable', what: 'access' },
    ]);
    const back = judge.feed(6000, seen({ v: { a: 1 } }));
    expect(back.settled).toEqual([]);
    expect(back.statuses).toEqual([{ kind: 'inbox-back' }]);
    expect(back.isNewInbox).toBe(true);
    expect(judge.feed(8000, { kind: 'missing' }).statuses).toEqual([{ kind: 'inbox-missing' }]);
  });

  it('tells when another folder stands in the place of the inbox', () => {
    const judge = new InboxJudge({ quietMs: 0 });
    judge.feed(0, seen({}));
    const other = judge.feed(2000, seen({}, { identity: '1:2' }));
    expect([other.statuses, other.isNewInbox]).toEqual([[{ kind: 'inbox-replaced' }], true]);
  });

  it('tells what waits and what lies loose when it changes, and not again', () => {
    const judge = new InboxJudge({ quietMs: 4000 });
    const more = {
      loose: ['IMG_1.JPG'],
      refused: [{ name: 'x', reason: { code: 'not-a-file' as const, what: 'link' as const } }],
    };
    const first = judge.feed(0, seen({ v: { a: 1 }, e: {} }, more));
    expect(first.statuses).toEqual([
      {
        kind: 'waiting',
        folders: [
          { name: 'v', waitsFor: 'quiet' },
          { name: 'e', waitsFor: 'pictures' },
        ],
      },
      { kind: 'loose', names: ['IMG_1.JPG'] },
      { kind: 'refused', items: more.refused },
    ]);
    expect(judge.feed(2000, seen({ v: { a: 1 }, e: {} }, more)).statuses).toEqual([]);
    expect(judge.feed(4000, seen({ v: { a: 1 }, e: {} })).statuses).toEqual([
      { kind: 'waiting', folders: [{ name: 'e', waitsFor: 'pictures' }] },
      { kind: 'loose', names: [] },
      { kind: 'refused', items: [] },
    ]);
    expect(judge.feed(6000, seen({ v: { a: 1 }, e: {} })).statuses).toEqual([]);
  });

  it('has a sentence for every status, and none for one that is over', () => {
    const judge = new InboxJudge({ quietMs: 4000 });
    const { statuses } = judge.feed(0, seen({ v: { a: 1 } }, { loose: ['a.jpg'] }));
    expect(statuses.map(statusSentence)).toEqual([
      'v: waiting until copying has finished',
      'Pictures must lie in a folder per visit. Directly in the inbox: a.jpg.',
    ]);
    expect(statusSentence({ kind: 'loose', names: [] })).toBeNull();
  });

  it('tries a folder it cannot read again and again, and counts from anew', () => {
    const judge = new InboxJudge({ quietMs: 4000 });
    const blocked: InboxScan = {
      ...(seen({}) as Extract<InboxScan, { kind: 'seen' }>),
      folders: [
        {
          name: 'v',
          key: '/inbox/v',
          scan: { kind: 'failed', reason: { code: 'unreadable', what: 'EBUSY' } },
        },
      ],
    };
    const scans = [...repeat(seen({ v: { a: 1 } }), 2), blocked, ...repeat(seen({ v: { a: 1 } }), 4)];
    expect(play(judge, scans)).toEqual(['v@10']);
  });

  it('hands the same state out again when asked to, at that time', () => {
    const judge = new InboxJudge({ quietMs: 0 });
    const scan = seen({ v: { a: 1 } });
    const [folder] = judge.feed(0, scan).settled;
    judge.lookAgain(folder as FolderScan, 5000);
    expect(play(judge, repeat(scan, 6), 2)).toEqual(['v@6']);
  });
});
