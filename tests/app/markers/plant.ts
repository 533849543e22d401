/**
 * Invented marks, one a place: who reads "Zqxmarker0123Vändersample" somewhere knows which carrier it came from. The
 * letter beyond ASCII makes Latin-1 and UTF-8 differ.
 */
export type Coding = 'latin1' | 'utf8' | 'utf16le' | 'utf16be';
export const CODINGS: readonly Coding[] = ['latin1', 'utf8', 'utf16le', 'utf16be'];

export interface Place {
  number: number;
  /** The file of the visit folder that holds it; null when it is in none. */
  file: string | null;
  carrier: string;
}

export const coded = (text: string, coding: Coding): Buffer =>
  coding === 'utf16be' ? Buffer.from(text, 'utf16le').swap16() : Buffer.from(text, coding);

/** Numbers the places and makes their marks. */
export class Planter {
  readonly places: Place[] = [];

  /** Marks for one file. */
  in(file: string | null): Plant {
    const next = (carrier: string): string => {
      const number = this.places.length;
      this.places.push({ number, file, carrier });
      return String(number).padStart(4, '0');
    };
    return {
      word: (carrier) => `Zqxmarker${next(carrier)}Vändersample`,
      short: (carrier) => `Zqxmarker${next(carrier)}`,
      bytes: (carrier, coding = 'utf8') =>
        coded(`Zqxmarker${next(`${carrier}, ${coding}`)}Vändersample`, coding),
      every: (carrier) =>
        CODINGS.map((coding) => coded(`Zqxmarker${next(`${carrier}, ${coding}`)}Vändersample`, coding)),
      uid: (carrier) => `1.2.826.0.1.771730.${Number(next(carrier)) + 1000}`,
      seven: (carrier) => Buffer.from(`Zqxt${next(carrier).slice(1)}`, 'latin1'),
    };
  }
}

export interface Plant {
  word(carrier: string): string;
  /** 13 characters, for fields of 16. */
  short(carrier: string): string;
  bytes(carrier: string, coding?: Coding): Buffer;
  /** The same kind of place once for each coding. */
  every(carrier: string): Buffer[];
  /** An object identifier, where only digits are lawful. */
  uid(carrier: string): string;
  /** Seven bytes, as long as a time in a PNG. */
  seven(carrier: string): Buffer;
}
