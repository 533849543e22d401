/** The key under which a sidecar and a folder agree on a name: composed, caseless, forward slashes, no leading "./". */
export const fileKey = (name: string): string =>
  name
    .normalize('NFC')
    .toLowerCase()
    .normalize('NFC')
    .replaceAll('\\', '/')
    .replace(/^(?:\.\/)+/, '');
