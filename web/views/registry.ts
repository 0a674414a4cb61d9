import type { ViewEntry } from './view.js';

/** Every view, in the order of the navigation; the first one is shown when the address names none. */
export const VIEWS: readonly [ViewEntry, ...ViewEntry[]] = [
  { name: 'bench', title: 'Bench', key: 'b', tag: 'rm-bench-view' },
  {
    name: 'walk',
    title: 'Walk',
    key: 'w',
    tag: 'rm-walk-view',
    ownKeys: [
      ['n', 'go on to the next step, at the end to your name'],
      ['f', 'go to the field that is asked for'],
      ['y', 'answer yes to the question that is open'],
      ['o', 'override the step with a reason'],
      ['u', 'one step back'],
      ['x', 'break off'],
    ],
  },
  { name: 'job', title: 'Job', key: 'j', tag: 'rm-job-view' },
  { name: 'design', title: 'Design', key: 'd', tag: 'rm-design-view' },
  { name: 'instruments', title: 'Instruments', key: 'i', tag: 'rm-instruments-view' },
];

/** The view that an address names, `#/design`; the first one for anything else. */
export function viewAt(hash: string): ViewEntry {
  return VIEWS.find(({ name }) => hash === `#/${name}`) ?? VIEWS[0];
}
