import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../../daemon/design/load.js';
import { changed, DESIGN_TEXT, designMessage, problemsOf } from './signal-cabin.js';

const D = 'signal-cabin.design.yaml';

const WRONG: readonly (readonly [title: string, from: string, to: string, message: string])[] = [
  [
    'a fixed regulator that kills its load',
    'regulator: 7805',
    'regulator: 7812',
    `${D}:53 rails.logic.regulator: 7812 gives 12.00 V, above the load's 5.5 V; did you mean 7805?`,
  ],
  [
    'a winding that can never reach the rail',
    'volts: 15 #',
    'volts: 9 #',
    // Unloaded 9 V x 1.12 x 1.414 = 14.26 V less two diodes of about 0.55 V at a milliamp.
    `${D}:39 rails.lamps.r2: asks for 12.03 V, but a 9 V winding gives at most 13.1 V unloaded, so at most 11.5 V after the regulator; lower the rail, or take a winding of at least 11 V`,
  ],
];

/** The lamp rail set to about 5 V for a logic load: 1.25 x (1 + 720 / 240) + 50 uA x 720 = 5.04 V. */
function logicOnLamps(r2: string): string {
  return changed(changed(DESIGN_TEXT, 'r2: 2050', `r2: ${r2}`), 'high: 14', 'low: 4.75\n      high: 5.5');
}

describe('what a rail is set to', () => {
  it.each(WRONG)('%s', (_title, from, to, message) => {
    expect(designMessage(from, to)).toBe(message);
  });

  it('a slip of the decimal point in R2', () => {
    const { message } = problemsOf(() => loadDesign(logicOnLamps('72'), D));
    // 1.25 x (1 + 72 / 240) + 50 uA x 72 = 1.6286 V
    expect(message).toBe(
      `${D}:39 rails.lamps.r2: 72 gives 1.63 V, below the load's 4.75 V; did you mean 720?`,
    );
    expect(() => loadDesign(logicOnLamps('720'), D)).not.toThrow();
  });

  it('an R2 that is no slip gets the nearest preferred value to the middle of the window', () => {
    const { message } = problemsOf(() => loadDesign(logicOnLamps('900'), D));
    // For 5.125 V: (5.125 - 1.25) / (1.25 / 240 + 50 uA) = 737 ohm; E24 next to it is 750.
    expect(message).toBe(
      `${D}:39 rails.lamps.r2: 900 gives 5.98 V, above the load's 5.5 V; did you mean 750?`,
    );
  });
});
