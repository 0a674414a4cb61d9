/** What to do about a suspect. */
export interface Action {
  /** Whether the supply has to be off before anything else. */
  readonly switchOff: boolean;
  /** For a person, beginning with switching off where that is the answer. */
  readonly words: string;
}

const OFF =
  'Switch off and pull the plug. The reservoir stays charged: measure it before you touch anything.';
const OFF_HOT = `${OFF} The regulator stays hot for minutes.`;

const R2_OUT =
  'Take the load off this rail. Compare the rings of R2 with the design, and measure it with one end lifted.';

/** Common practice at the bench for each known fault. */
const ACTIONS: Readonly<Record<string, string>> = {
  'diode-open': `${OFF} Test every diode of the rectifier with the diode range, both ways round, and look for a dry joint.`,
  'tap-too-high': `${OFF} Take the loads off. Compare the transformer's taps and the mains selector with its label before power goes on again; look at the capacitors' working volts.`,
  'tap-too-low': `${OFF} Compare the transformer's taps and the mains selector with its label.`,
  'reservoir-dried': `${OFF} Let it discharge, measure its capacitance with one end lifted, and replace it.`,
  'follower-shorted': `${OFF} Test the filter's pass device for a short between its power pins, and replace it.`,
  'regulator-passes-input': `${OFF} Disconnect the load at once: it gets the raw volts. Replace the regulator, and find out what killed it before the load goes on again.`,
  'adjust-open': `${OFF} ${R2_OUT} Look for a broken joint between adjust pin, R2 and ground.`,
  'adjust-grounded': `${OFF} Look for a bridge of solder or a shorted capacitor from the adjust pin to ground.`,
  'r2-too-large': `${OFF} ${R2_OUT}`,
  'r2-too-small': `${OFF} ${R2_OUT}`,
  overload: `${OFF_HOT} Take the load off and measure what it draws, or its resistance; look for a short or a load too many.`,
  'heatsink-missing': `${OFF_HOT} Fit the heatsink, with its interface and insulating parts, before power goes on again.`,
  'heatsink-loose': `${OFF_HOT} Let it cool, tighten the screw or clip, and renew pad or grease.`,
  'sensor-off': `${OFF_HOT} Fix the probe to the case again: until it sits there, nothing tells how hot the case is.`,
  healthy: 'Nothing here speaks for a fault. Go on with the next step and keep watching.',
};

/** What to do where no known fault explains the readings. */
export const OTHER_ACTION: Action = {
  switchOff: true,
  words: `${OFF} No known fault explains these readings. Check that every probe sits where it is said to sit, then compare the parts with the design.`,
};

/** What to do about this suspect; for a fault without words of its own what helps with an unknown one. */
export function actionOn(fault: string): Action {
  const words = Object.hasOwn(ACTIONS, fault) ? ACTIONS[fault] : undefined;
  return words === undefined ? OTHER_ACTION : { switchOff: words.startsWith('Switch off'), words };
}
