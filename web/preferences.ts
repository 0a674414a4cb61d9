/** What a person chose for this browser. */
export interface Preferences {
  readonly temperature: 'C' | 'F';
  readonly theme: 'system' | 'light' | 'dark';
  readonly textSize: 'usual' | 'large' | 'largest';
  readonly toneLevel: 'soft' | 'usual' | 'loud';
  /** Whether alarms and the steps of the walk are read out by the browser's voice. */
  readonly voice: 'on' | 'off';
  /** Whether a reading is spoken when it settles. */
  readonly readings: 'on' | 'off';
  /** Where a new design starts: 230 V 50 Hz or 120 V 60 Hz. */
  readonly mains: '230' | '120';
}

/** Every preference with what may be chosen, the first one holding until a person chooses. */
export const PREFERENCE_CHOICES: {
  readonly [K in keyof Preferences]: readonly [Preferences[K], ...Preferences[K][]];
} = {
  temperature: ['C', 'F'],
  theme: ['system', 'light', 'dark'],
  textSize: ['usual', 'large', 'largest'],
  toneLevel: ['usual', 'soft', 'loud'],
  voice: ['off', 'on'],
  readings: ['off', 'on'],
  mains: ['230', '120'],
};

const NAME = 'railminder.preferences';

/** The preferences kept in this browser; whatever isn't one of the choices is the first choice. */
export function readPreferences(): Preferences {
  const kept = stored();
  return {
    temperature: chosen('temperature', kept),
    theme: chosen('theme', kept),
    textSize: chosen('textSize', kept),
    toneLevel: chosen('toneLevel', kept),
    voice: chosen('voice', kept),
    readings: chosen('readings', kept),
    mains: chosen('mains', kept),
  };
}

/** Keeps them for the next visit. A browser that keeps nothing starts with the first choices again. */
export function writePreferences(preferences: Preferences): void {
  try {
    window.localStorage.setItem(NAME, JSON.stringify(preferences));
  } catch {
    return;
  }
}

function chosen<K extends keyof Preferences>(
  key: K,
  kept: Readonly<Record<string, unknown>>,
): Preferences[K] {
  const choices: readonly Preferences[K][] = PREFERENCE_CHOICES[key];
  return choices.find((choice) => choice === kept[key]) ?? PREFERENCE_CHOICES[key][0];
}

function stored(): Readonly<Record<string, unknown>> {
  try {
    const kept: unknown = JSON.parse(window.localStorage.getItem(NAME) ?? '{}');
    return typeof kept === 'object' && kept !== null ? (kept as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}
