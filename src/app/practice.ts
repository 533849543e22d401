export { initPractice, type Practice } from '../practice/index.js';
