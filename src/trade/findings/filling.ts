import { isFilled } from '../canals.js';
import { finding, listed, type Rule } from './rule.js';

/** What was filled, and whether the record says it could be. */
export const fillingRules: Rule[] = [
  ({ course }) => {
    const wet = course.canals
      .filter((canal) => canal.dry === false && isFilled(canal))
      .map(({ canal }) => canal);
    return wet.length === 0
      ? []
      : [
          finding(
            'filled-not-dry',
            'contradiction',
            `${wet.length === 1 ? 'Canal' : 'Canals'} ${listed(wet)} ${wet.length === 1 ? 'is' : 'are'} recorded as not dry, yet filled. Correct dry or filled.`,
          ),
        ];
  },
];
