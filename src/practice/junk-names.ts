/**
 * Names that systems, browsers and sync clients leave in folders: never pictures, so they are ignored and never
 * refused. `partial` ones are transfers under way: they keep a folder from counting as quiet while they change.
 * `*` stands for any run of characters; capitals do not matter.
 */
export const JUNK: readonly { name: string; partial: boolean; from: string }[] = [
  { name: '.DS_Store', partial: false, from: 'macOS folder view' },
  {
    name: '._*',
    partial: false,
    from: 'macOS AppleDouble: resource data beside a file, also named like a picture',
  },
  { name: '.Spotlight-*', partial: false, from: 'macOS index' },
  { name: '.fseventsd', partial: false, from: 'macOS events' },
  { name: '.TemporaryItems', partial: false, from: 'macOS' },
  { name: '.Trash*', partial: false, from: 'waste bin' },
  { name: '__MACOSX', partial: false, from: 'macOS archive' },
  { name: 'Thumbs.db', partial: false, from: 'Windows previews' },
  { name: 'ehthumbs.db', partial: false, from: 'Windows previews' },
  { name: 'desktop.ini', partial: false, from: 'Windows folder view' },
  { name: '$RECYCLE.BIN', partial: false, from: 'Windows waste bin' },
  { name: 'System Volume Information', partial: false, from: 'Windows' },
  { name: '~$*', partial: false, from: 'open office document' },
  { name: '@eaDir', partial: false, from: 'network storage previews' },
  { name: '#recycle', partial: false, from: 'network storage waste bin' },
  { name: '.nfs*', partial: false, from: 'NFS: deleted while open' },
  { name: '.directory', partial: false, from: 'desktop folder view' },
  { name: '.stfolder', partial: false, from: 'sync client' },
  { name: '.stversions', partial: false, from: 'sync client' },
  { name: '.sync', partial: false, from: 'sync client' },
  { name: '.syncthing.*', partial: true, from: 'sync client, under way' },
  { name: '~syncthing~*', partial: true, from: 'sync client on Windows, under way' },
  { name: '.~*', partial: true, from: 'copy under way, or a lock' },
  { name: '*.part', partial: true, from: 'transfer under way' },
  { name: '*.partial', partial: true, from: 'transfer under way' },
  { name: '*.filepart', partial: true, from: 'transfer under way' },
  { name: '*.crdownload', partial: true, from: 'download under way' },
  { name: '*.tmp', partial: true, from: 'temporary file' },
];

/** `junk`, `partial` (junk that is still arriving), or null for a name to be taken seriously. */
export function junkKind(name: string): 'junk' | 'partial' | null {
  const lower = name.toLowerCase();
  const found = JUNK.find((one) => fits(lower, one.name.toLowerCase()));
  if (found === undefined) return null;
  return found.partial ? 'partial' : 'junk';
}

function fits(name: string, pattern: string): boolean {
  if (pattern.startsWith('*')) return name.length >= pattern.length && name.endsWith(pattern.slice(1));
  if (pattern.endsWith('*')) return name.startsWith(pattern.slice(0, -1));
  return name === pattern;
}
