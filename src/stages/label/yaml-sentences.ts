import type { ErrorCode } from 'yaml';

const BY_CODE: Partial<Record<ErrorCode, string>> = {
  TAB_AS_INDENT: 'A tab stands where spaces belong. Indent with spaces.',
  DUPLICATE_KEY:
    'This key is there twice. Keep one; for a second tooth start a new document with a line of ---.',
  BAD_INDENT: 'The indentation does not fit the lines above. Keys of one group start in the same column.',
  MISSING_CHAR:
    'Something is not closed, or a colon or comma is missing, here or just above. Close every quote and bracket, and write a colon after each key.',
  BLOCK_AS_IMPLICIT_KEY:
    'There is a second colon in this line, or the line above is not finished. Put text with a colon in quotes.',
  MULTILINE_IMPLICIT_KEY: 'A colon is missing after a key, here or in the line above.',
  BLOCK_IN_FLOW: 'A dash list cannot stand inside brackets. Part the values with commas.',
  BAD_SCALAR_START: 'A text cannot start with this sign. Put the text in quotes.',
  BAD_DQ_ESCAPE:
    'A backslash inside double quotes has a meaning of its own. Use single quotes, or no backslash.',
  TAG_RESOLVE_FAILED:
    'An exclamation mark at the start of a value has a meaning of its own. Put the text in quotes.',
  BAD_ALIAS: 'A star or ampersand at the start of a value has a meaning of its own. Put the text in quotes.',
  UNEXPECTED_TOKEN: 'This does not belong here: a sign is missing or too many, here or just above.',
  KEY_OVER_1024_CHARS: 'This key is far too long. A colon or a line break is missing just above.',
  BAD_DIRECTIVE: 'A percent sign at the start of a line has a meaning of its own. Put the text in quotes.',
  RESOURCE_EXHAUSTION: 'Lists and groups are nested too deeply here. Compare with the example.',
};

/** The parser's own messages quote what was written, which may identify; these never do. */
export const sentenceOfYaml = (code: ErrorCode): string =>
  BY_CODE[code] ?? 'This cannot be read as YAML. Compare the line with the example.';
