import { describe, it } from 'vitest';
import { contractCases, type DriverContract } from './contract-cases.js';

export type { DeviceSurroundings, GoodDevice } from './contract-cases.js';

/** Runs the tests that every driver must pass. */
export function driverContract(contract: DriverContract): void {
  describe(`${contract.driver.name} keeps the driver contract`, () => {
    for (const { title, run } of contractCases(contract)) it(title, run);
  });
}
