/** Ripple rejection of an adjustable regulator as published: at one output voltage and twice the mains frequency. */
export interface PublishedRejection {
  /** Without an adjust capacitor, dB. */
  readonly plain_dB: number;
  /** With the adjust capacitor, dB. */
  readonly withCapacitor_dB: number;
  /** The output volts both were measured at (10 V in LM317 datasheets). */
  readonly atOutputVolts: number;
  readonly referenceVolts: number;
}

export interface AdjustNetwork {
  readonly r1: number;
  readonly r2: number;
  /** From adjust to ground, F; 0 for none. */
  readonly capacitance: number;
}

/**
 * What an adjustable regulator takes off the ripple at `hertz`, dB.
 *
 * The error amplifier keeps reference and adjust pin together, and what is left there reaches the output
 * multiplied by |1 + Z2/R1|, Z2 being R2 beside the capacitor (common practice). So without a capacitor the rejection
 * falls with Vout/Vref from the published one; a capacitor lifts it to, at most, the figure published with one.
 */
export function adjustableRejection(
  published: PublishedRejection,
  network: AdjustNetwork,
  hertz: number,
): number {
  const asMeasured = published.atOutputVolts / published.referenceVolts;
  const now = adjustGain(network, hertz);
  const carried = published.plain_dB + 20 * Math.log10(asMeasured / now);
  return network.capacitance > 0
    ? Math.min(carried, Math.max(published.withCapacitor_dB, published.plain_dB))
    : carried;
}

/** |1 + Z2/R1| with Z2 = R2/(1 + jωR2·C). */
function adjustGain(network: AdjustNetwork, hertz: number): number {
  const { r1, r2, capacitance } = network;
  const turns = 2 * Math.PI * hertz * r2 * capacitance;
  const share = r2 / r1 / (1 + turns * turns);
  return Math.hypot(1 + share, share * turns);
}

/** The share of the input's ripple that passes: 10^(−dB/20). */
export function rippleShare(rejection_dB: number): number {
  return 10 ** (-rejection_dB / 20);
}
