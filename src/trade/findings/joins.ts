import { isSameCanal } from '../canals.js';
import type { CanalEntry } from '../visit-document.js';
import { type CourseView, finding, listed, OWN_RULE, type Rule } from './rule.js';

/** Canals that join another: it must be recorded, and two that join each other must do so at one place. */
export const joinRules: Rule[] = [
  (view) =>
    view.course.canals.flatMap(({ canal, joins }) =>
      joins === null || target(view, joins.canal)
        ? []
        : [
            finding(
              'join-unknown',
              'contradiction',
              `Canal ${canal} is said to join ${joins.canal}, which is not recorded. Add that canal, or correct the name.`,
              OWN_RULE,
            ),
          ],
    ),
  (view) => loops(view).map((loop) => finding('join-loop', 'contradiction', loopSentence(loop), OWN_RULE)),
];

const target = (view: CourseView, label: string): CanalEntry | undefined =>
  view.course.canals.find(({ canal }) => isSameCanal(view.fdi, canal, label));

/** Each ring of joins once, from its first canal; two canals that agree on the distance are no contradiction. */
function loops(view: CourseView): CanalEntry[][] {
  const { canals } = view.course;
  return canals.flatMap((start) => {
    const ring = ringFrom(view, start);
    const first = ring.every((canal) => canals.indexOf(canal) >= canals.indexOf(start));
    const agreed = ring.length === 2 && ring[0]?.joins?.at === ring[1]?.joins?.at;
    return ring.length > 0 && first && !agreed ? [ring] : [];
  });
}

/** The canals passed on the way back to `start`; empty when the way ends elsewhere. */
function ringFrom(view: CourseView, start: CanalEntry): CanalEntry[] {
  const passed: CanalEntry[] = [];
  let canal: CanalEntry | undefined = start;
  while (canal && !passed.includes(canal)) {
    passed.push(canal);
    canal = canal.joins === null ? undefined : target(view, canal.joins.canal);
  }
  return canal === start ? passed : [];
}

function loopSentence(ring: readonly CanalEntry[]): string {
  const names = ring.map(({ canal }) => canal);
  if (names.length === 1) return `Canal ${names[0]} is said to join itself. Name the canal it joins.`;
  if (names.length > 2)
    return `Canals ${listed(names)} join each other in a ring. Keep joins only where one ends in another.`;
  return `Canals ${listed(names)} are said to join each other at different distances from the apex. Keep the right one.`;
}
