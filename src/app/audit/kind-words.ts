/** Kinds as a person reads them; a kind that is not here is plain already. */
const KIND: Readonly<Record<string, string>> = {
  'patient-name': "a patient's name",
  'chart-number': "a patient's chart number",
  'birth-date': "a patient's birth date",
  'visit-date': 'the date of a visit',
  'source-metadata': "text of an original's metadata",
  'source-name': 'the name of a source file or folder',
  term: 'a term of your list',
  date: 'a date',
  phone: 'a telephone number',
  'e-mail': 'an e-mail address',
  handle: 'an account name',
  url: 'a web address',
  'network-address': 'a network address',
  'long-number': 'a long number',
  serial: 'something like a serial number',
  uid: 'an identifier of a device or an object',
  name: 'a name',
  age: 'an age above 89',
  location: 'a place',
  'text-in-picture': 'text in a picture',
};

export const kindWords = (kind: string): string => KIND[kind] ?? kind;
