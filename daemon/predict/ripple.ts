/** Ripple that a full-wave rectifier leaves at most, V peak to peak: I / (2 f C), no time spent charging. */
export function rippleAtMost(amps: number, hertz: number, farads: number): number {
  return amps / (2 * hertz * farads);
}

/** RMS of a sawtooth or triangle of this height: Vpp / (2 sqrt 3). Textbook form factor. */
export function sawtoothRms(peakToPeak: number): number {
  return peakToPeak / (2 * Math.sqrt(3));
}

interface Charging {
  readonly amps: number;
  readonly hertz: number;
  readonly farads: number;
  /** Peak of the source while charging, V, and all resistance in its way, ohm. */
  readonly crest: number;
  readonly ohms: number;
  /** Half the conduction angle, radians. */
  readonly angle: number;
}

/** What the capacitor alone does, ESR left out. */
export interface CapacitorSwing {
  /** Peak to peak, V. */
  readonly swing: number;
  /** How fast the volts climb while charging, V per radian of the mains cycle. */
  readonly climb: number;
}

/**
 * Swing of a capacitor with the charging time taken off. It falls while the pulse gives less than the load takes,
 * that is all but 2 t0 of each half cycle with cos t0 = cos a + I R / E, so it swings I / (2 f C) (1 - 2 t0 / pi).
 */
export function capacitorSwing({ amps, hertz, farads, crest, ohms, angle }: Charging): CapacitorSwing {
  const netAngle = Math.acos(Math.min(1, Math.cos(angle) + (amps * ohms) / crest));
  const swing = rippleAtMost(amps, hertz, farads) * (1 - (2 * netAngle) / Math.PI);
  // With next to no resistance the pulse is as wide as the sine takes to climb by the swing.
  const width = Math.sqrt((2 * netAngle) ** 2 + swing / crest);
  return { swing, climb: width > 0 ? swing / width : 0 };
}

/** How far the reservoir's terminals swing around their mean, V; `below` is negative. */
export interface NodeRipple {
  readonly above: number;
  readonly below: number;
}

const SAMPLES = 40;

/**
 * Ripple at the reservoir's terminals: the capacitor's charge along a pulse, and the ESR's drop of its current.
 * Valley and peak both lie within the pulse, since the volts only fall outside it.
 */
export function nodeRipple({
  amps,
  hertz,
  farads,
  esr,
  crest,
  ohms,
  angle,
}: Charging & { readonly esr: number }): NodeRipple {
  const c = Math.cos(angle);
  let above = -Infinity;
  let below = Infinity;
  for (let sample = 0; sample <= SAMPLES; sample += 1) {
    const phase = angle * ((2 * sample) / SAMPLES - 1);
    const charge = (crest / ohms) * (Math.sin(phase) - phase * c) - amps * phase;
    const current = (crest / ohms) * (Math.cos(phase) - c) - amps;
    const volts = charge / (2 * Math.PI * hertz * farads) + esr * current;
    above = Math.max(above, volts);
    below = Math.min(below, volts);
  }
  return { above, below };
}
