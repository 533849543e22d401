/**
 * Forms that look like an identifier and are none, masked before kinds are looked for. Known terms are searched for in
 * the text as it is, so nothing can hide here that is known of a patient.
 */
const ALLOWED: readonly RegExp[] = [
  // Our own sheets: a share code after its words.
  /(?<=share code )[0-9A-HJKMNP-TV-Z]{6}(?![0-9A-Z])/gi,
  // Names of XML vocabularies, in use as addresses only.
  /https?:\/\/(?:ns\.adobe\.com|www\.w3\.org|purl\.org\/dc|iptc\.org\/std|cipa\.jp\/exif|www\.aiim\.org\/pdf\w*|www\.npes\.org\/pdfx|ns\.google\.com\/photos|schemas\.openxmlformats\.org|schemas\.microsoft\.com|purl\.oclc\.org\/ooxml|www\.color\.org|www\.iec\.ch|json-schema\.org)(?:\/[A-Za-z0-9#/._-]{0,80})?/g,
  // IEC 61966-2-1, the standard of sRGB, as colour profiles name it.
  /IEC ?61966-2[-.]1/gi,
  // 45 CFR 164.514 and standards' numbers: ISO 3630-1, PS3.15.
  /\b(?:ISO|IEC|ASTM|DIN|EN|ANSI)[ -]?\d{3,6}(?:-\d{1,2})?(?::\d{4})?/g,
  /\b45 CFR \d{3}\.\d{3}/g,
];

/** The same text with allowed forms blanked. */
export const maskAllowedForms = (text: string): string =>
  ALLOWED.reduce((masked, form) => masked.replace(form, (found) => ' '.repeat(found.length)), text);
