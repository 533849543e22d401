import type { ErrorReport } from '../../app/report.js';

/** `visit.yaml:15:11: images[1].stage: "acess" is not a stage. ...` */
export const errorLine = ({ file, line, column, field, sentence }: ErrorReport): string =>
  `${file}:${line}:${column}: ${field === '' ? '' : `${field}: `}${sentence}`;
