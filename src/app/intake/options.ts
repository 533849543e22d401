export interface IntakeOptions {
  /** False writes nothing: `check`. */
  write: boolean;
  /** While a picture is damaged or a listed one absent, wait instead of holding: `watch` and `check`. */
  waits: boolean;
}
