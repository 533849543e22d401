import { join } from 'node:path';
import type { Practice } from '../../practice/index.js';

/** Where display pictures lie between being made and being filed; emptied after every visit. */
export const waitingRoomOf = (practice: Practice): string => join(practice.paths.tmp, 'pictures');
