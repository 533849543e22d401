export { writeCoverSlip } from './cover-slip.js';
export { makeSheet } from './make-sheet.js';
