import type { AlarmCause } from './alarm.js';
import type { Service } from './events.js';
import type { AlarmWords } from './words.js';

interface Words {
  /** What has stopped, and what that means. */
  readonly stopped: (name: string) => string;
  readonly goesOn: string;
  readonly spoken: string;
  readonly cure: string;
}

const BY_ITSELF = 'Nothing to do: it is started again by itself, later each time.';

const WORDS: Readonly<Record<Service, Words>> = {
  bands: {
    stopped: () => 'What is expected is no longer worked out anew',
    goesOn: 'The expected values stay as they are.',
    spoken: 'expected values are no longer sharpened',
    cure: BY_ITSELF,
  },
  suspects: {
    stopped: () => 'Readings are no longer weighed for what may be wrong',
    goesOn: 'Alarms go on.',
    spoken: 'suspects are no longer weighed',
    cure: BY_ITSELF,
  },
  recordings: {
    stopped: () => "The page can't read recordings",
    goesOn: 'This session is recorded all the same.',
    spoken: "recordings can't be read",
    cure: `${BY_ITSELF} A recording that stops it each time is damaged or too large.`,
  },
  page: {
    stopped: () => 'The pages are not told what happens',
    goesOn: 'Watching goes on.',
    spoken: 'the page stands still',
    cure: 'Look at the instruments and the terminal instead; it is tried again by itself.',
  },
  terminal: {
    stopped: () => 'The terminal is not told what happens',
    goesOn: 'Watching goes on.',
    spoken: 'the terminal stands still',
    cure: 'Look at the page instead; it is tried again by itself.',
  },
  hook: {
    stopped: (name) => `The hook ${name} came to nothing, so it called nobody`,
    goesOn: 'Watching goes on.',
    spoken: 'a hook failed, nobody was called',
    cure: "Don't rely on being called. Try the hook by hand; it is run again for the next alarm, and for this one while it asks for somebody.",
  },
};

export function serviceWords({
  service,
  name,
  why,
}: Extract<AlarmCause, { kind: 'service-down' }>): AlarmWords {
  const { stopped, goesOn, spoken, cure } = WORDS[service];
  return { sentence: `${stopped(name)}: ${why}. ${goesOn}`, spoken, cure };
}
