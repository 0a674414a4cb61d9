/**
 * Heat in a linear regulator, W: (Vin - Vout) I for all that goes to the output, and Vin Iq for its own current to
 * ground. Checked against the TS2940 datasheet's example: 0.8 W + 0.036 W.
 */
export function regulatorWatts(
  inputVolts: number,
  outputVolts: number,
  outputAmps: number,
  groundAmps: number,
): number {
  return Math.max(0, inputVolts - outputVolts) * outputAmps + inputVolts * groundAmps;
}
