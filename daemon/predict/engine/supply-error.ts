/** A supply that can't be worked out: contradictory, or without a steady state. The message names supply and place. */
export class SupplyError extends Error {
  override readonly name = 'SupplyError';
  readonly code: 'supply-contradictory' | 'supply-unsolved';
  constructor(
    code: 'supply-contradictory' | 'supply-unsolved',
    supply: string,
    what: string,
    options?: ErrorOptions,
  ) {
    super(`supply "${supply}": ${what}`, options);
    this.code = code;
  }
}
