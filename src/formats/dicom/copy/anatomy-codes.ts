/**
 * Codes of teeth and regions of the mouth that may stay in a copy, and the words written for them. DICOM PS3.16:
 * CID 4016 (regions), 4017 (their modifiers), 4018 and 4019 (teeth), 4025 (supernumerary teeth). Two schemes: SRT, as
 * objects carried them until 2018, and SCT; CID 4018 and 4019 have replaced some of their SCT codes since, and
 * both the newer and the older one are known. Tooth numbers: ISO 3950 (FDI).
 */

/** Tooth, SRT code, SCT code, older SCT code where it was another. */
const TEETH = `
  11 T-54280 422653006 22120004 | 12 T-54270 424877001 11712009 | 13 T-54260 860767006 80647007
  14 T-54250 57826002 | 15 T-54240 36492000 | 16 T-54230 865995000 5140004
  17 T-54220 863902006 7121006 | 18 T-54210 68085002 | 21 T-54290 424399000 31982000
  22 T-54300 423185002 25748002 | 23 T-54310 860780009 72876007 | 24 T-54320 61897005
  25 T-54330 23226009 | 26 T-54340 865988009 23427002 | 27 T-54350 863901004 66303006
  28 T-54360 87704003 | 31 T-54440 425106001 113278005 | 32 T-54430 423331005 77130001
  33 T-54420 860782001 39844006 | 34 T-54410 2400006 | 35 T-54400 24573005
  36 T-54390 866006002 89625000 | 37 T-54380 863898000 48402004 | 38 T-54370 74344005
  41 T-54450 424575004 15422005 | 42 T-54460 423937004 82628004 | 43 T-54470 860785004 47055002
  44 T-54480 80140008 | 45 T-54490 8873007 | 46 T-54500 866005003 28480000
  47 T-54510 863899008 40005008 | 48 T-54520 38994002 | 51 T-54611 88824007 245620002
  52 T-54621 65624003 245619008 | 53 T-54630 30618001 | 54 T-54641 17505006 245616001
  55 T-54650 27855007 | 61 T-54660 51678005 | 62 T-54670 43622005
  63 T-54680 73937000 | 64 T-54690 45234009 | 65 T-54700 51943008
  71 T-54760 89552004 | 72 T-54770 14770005 | 73 T-54781 43281008 245639007
  74 T-54790 38896004 | 75 T-54800 49330006 | 81 T-54710 67834006
  82 T-54720 22445006 | 83 T-54730 6062009 | 84 T-54741 58646007 245631005
  85 T-54750 61868007`;

/** The tooth it stands beside, SRT code, SCT code. */
const SUPERNUMERARIES = `
  11 R-FC4EC 707041004 | 12 R-FC4EA 707039000 | 13 R-FC4E9 707038008 | 14 R-FC4E8 707037003
  15 R-FC4E7 707036007 | 16 R-FC4E6 707035006 | 17 R-FC4E4 707033004 | 18 R-FC4E3 707032009
  21 R-FC4ED 707042006 | 22 R-FC4EE 707043001 | 23 R-FC4EF 707044007 | 24 R-FC4F0 707045008
  25 R-FC4F1 707046009 | 26 R-FC4F2 707047000 | 27 R-FC4F3 707048005 | 28 R-FC4F4 707049002
  31 R-FC4FF 707060006 | 32 R-FC4FE 707059001 | 33 R-FC4FD 707058009 | 34 R-FC4FC 707057004
  35 R-FC4FB 707056008 | 36 R-FC4FA 707055007 | 37 R-FC4F9 707054006 | 38 R-FC4F7 707052005
  41 R-FC500 707061005 | 42 R-FC501 707062003 | 43 R-FC502 707063008 | 44 R-FC503 707064002
  45 R-FC504 707065001 | 46 R-FC505 707066000 | 47 R-FC506 707067009 | 48 R-FC507 707068004
  51 R-FC4D0 707013003 | 52 R-FC4CF 707012008 | 53 R-FC4CE 707011001 | 54 R-FC4CD 707010000
  55 R-FC4CC 707009005 | 61 R-FC4D1 707014009 | 62 R-FC4D2 707015005 | 63 R-FC4D3 707016006
  64 R-FC4D4 707017002 | 65 R-FC4D5 707018007 | 71 R-FC4DD 707026004 | 72 R-FC4DF 707028003
  73 R-FC4E0 707029006 | 74 R-FC4E1 707030001 | 75 R-FC4E2 707031002 | 81 R-FC4DC 707025000
  82 R-FC4DB 707024001 | 83 R-FC4DA 707023007 | 84 R-FC4D9 707022002 | 85 R-FC4D8 707021009`;

/** SRT code, SCT code, words. */
const REGIONS = `
  T-54000 28035005 teeth, gums and supporting structures | T-D1213 661005 jaw region
  T-11170 70925003 maxilla | T-11180 91609006 mandible`;

/** SRT code, SCT code, words. */
const MODIFIERS = `
  R-FB322 699453001 central incisor region | R-FB35C 699511000 lateral incisor region
  R-FB35B 699510004 canine region | R-FB35A 699509009 first premolar region
  R-FB359 699508001 second premolar region | R-FB358 699507006 first molar region
  R-FB356 699505003 second molar region | R-FB354 699503005 third molar region`;

export interface AnatomyCode {
  scheme: 'SCT' | 'SRT';
  code: string;
  /** Our own words for it, ASCII, under 64 characters. */
  meaning: string;
  /** The tooth a code names, by ISO 3950; null for regions and supernumerary teeth. */
  tooth: number | null;
}

/** By scheme and code, as `keyOf` joins them. */
type Codes = ReadonlyMap<string, AnatomyCode>;

const rowsOf = (table: string): string[][] =>
  table.split(/[|\n]/).flatMap((row) => (row.trim() === '' ? [] : [row.trim().split(' ')]));

const keyOf = (scheme: string, code: string): string => `${scheme} ${code}`;

function codesOf(entries: { srt: string; sct: string[]; meaning: string; tooth: number | null }[]): Codes {
  const known = entries.flatMap(({ srt, sct, meaning, tooth }): AnatomyCode[] => [
    { scheme: 'SRT', code: srt, meaning, tooth },
    ...sct.map((code): AnatomyCode => ({ scheme: 'SCT', code, meaning, tooth })),
  ]);
  return new Map(known.map((entry) => [keyOf(entry.scheme, entry.code), entry]));
}

const regionsOf = (table: string): Codes =>
  codesOf(
    rowsOf(table).map(([srt = '', sct = '', ...words]) => ({
      srt,
      sct: [sct],
      meaning: words.join(' '),
      tooth: null,
    })),
  );

/** CID 4016, for Anatomic Region Sequence (0008,2218). */
export const REGION_CODES = regionsOf(REGIONS);
/** CID 4017, for Anatomic Region Modifier Sequence (0008,2220). */
export const MODIFIER_CODES = regionsOf(MODIFIERS);
/** CID 4026, for Primary Anatomic Structure Sequence (0008,2228). */
export const TOOTH_CODES: Codes = new Map([
  ...codesOf(
    rowsOf(TEETH).map(([tooth = '', srt = '', ...sct]) => ({
      srt,
      sct,
      meaning: `tooth ${tooth} (ISO 3950)`,
      tooth: Number(tooth),
    })),
  ),
  ...codesOf(
    rowsOf(SUPERNUMERARIES).map(([tooth = '', srt = '', ...sct]) => ({
      srt,
      sct,
      meaning: `supernumerary tooth beside ${tooth} (ISO 3950)`,
      tooth: null,
    })),
  ),
]);

/** SNM3 and 99SDM are earlier names of SRT (PS3.16, 8.1). */
const SCHEMES: Record<string, AnatomyCode['scheme']> = {
  SCT: 'SCT',
  SRT: 'SRT',
  SNM3: 'SRT',
  '99SDM': 'SRT',
};

/** The entry of a list, or null: a code that is not in it may be anything. */
export function knownCode(codes: Codes, scheme: string, code: string): AnatomyCode | null {
  const known = SCHEMES[scheme];
  return known ? (codes.get(keyOf(known, code)) ?? null) : null;
}
