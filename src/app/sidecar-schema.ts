export { sidecarJsonSchema } from '../stages/label/index.js';
