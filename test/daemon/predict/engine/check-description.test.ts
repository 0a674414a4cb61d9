import { describe, expect, it } from 'vitest';
import { supplyModel } from '../../../../daemon/predict/engine/model.js';
import { certain } from '../../../../daemon/predict/engine/parameters.js';
import { SupplyError } from '../../../../daemon/predict/engine/supply-error.js';
import type { SupplyDescription } from '../../../../daemon/predict/engine/supply.js';
import { fixedRegulator, rail, reservoir, signalCabin, splitCabin } from './supplies.js';

function refusal(supply: SupplyDescription): string {
  try {
    supplyModel(supply, 'typical');
  } catch (error) {
    if (error instanceof SupplyError && error.code === 'supply-contradictory') return error.message;
    throw error;
  }
  throw new Error('the supply was taken without a word');
}

const cabin = signalCabin();

describe('a contradictory description is refused with one message', () => {
  it.each<[string, SupplyDescription, string]>([
    [
      'a reservoir of nothing',
      signalCabin({ reservoir: reservoir(0) }),
      'supply "signal cabin": reservoir.farads must be above 0, not 0',
    ],
    [
      'a lamp that gives back power',
      signalCabin({ transformer: { ...cabin.transformer, limiterOhms: certain('lampOhms', -1) } }),
      'supply "signal cabin": transformer.limiterOhms must be 0 or more, not -1',
    ],
    [
      'rails in a circle',
      signalCabin({ rails: [rail('lamps', { from: 'logic' }), rail('logic', { from: 'lamps' })] }),
      'supply "signal cabin": nothing feeds lamps from logic, logic from lamps; rails must come from reservoir',
    ],
    [
      'a rail from a filter that is not there',
      signalCabin({ rails: [rail('lamps', { from: 'filter' })] }),
      'supply "signal cabin": nothing feeds lamps from filter; rails must come from reservoir',
    ],
    [
      'a negative rail from a positive reservoir',
      signalCabin({ rails: [rail('bells', { polarity: 'negative' })] }),
      `supply "signal cabin": bells is a negative rail and can't be made from reservoir, which is positive`,
    ],
    [
      'a split bridge on a single winding',
      splitCabin({ transformer: cabin.transformer }),
      'supply "signal cabin, split": a split-bridge rectifier wants a centre-tapped winding',
    ],
    [
      'a negative reservoir behind a plain bridge',
      signalCabin({ negativeReservoir: reservoir(1e-3) }),
      'supply "signal cabin": a negative reservoir wants a split bridge, not a bridge rectifier',
    ],
    [
      'a heatsink that is not there',
      signalCabin({ rails: [rail('lamps', onShared('wall'))] }),
      'supply "signal cabin": lamps sits on heatsink wall, but there is none',
    ],
    [
      'two of a name',
      signalCabin({ rails: [rail('lamps'), rail('lamps')] }),
      'supply "signal cabin": two rails are called lamps',
    ],
    [
      'one name for two numbers',
      signalCabin({ ambient: certain('windingVolts', 22) }),
      'supply "signal cabin": windingVolts has two meanings: 22 / 22 / 22 and 14.549999999999999 / 15 / 15.450000000000001',
    ],
    [
      'two things wrong at once',
      signalCabin({
        reservoir: reservoir(0),
        rails: [rail('lamps', { regulator: { ...fixedRegulator('lamps', 12), volts: certain('v', -12) } })],
      }),
      'supply "signal cabin": reservoir.farads must be above 0, not 0; lamps.volts must be above 0, not -12',
    ],
  ])('%s', (_, supply, message) => {
    expect(refusal(supply)).toBe(message);
  });
});

function onShared(heatsink: string) {
  const { cooling } = rail('lamps');
  const mounting = { interface: certain('lamps.caseSink', 1), heatsink, fitted: true };
  return { cooling: { ...cooling, mounting } };
}

it('a circuit that cannot be solved is named, whatever draw it comes from', () => {
  const model = supplyModel(cabin, 'typical');
  const draw = model.typicalDraw();
  const at = model.parameters.findIndex(({ name }) => name === 'farads');
  draw[at] = NaN;
  const results = new Float64Array(model.outputs.length);
  expect(() => model.evaluate(draw, results)).toThrow(
    /supply "signal cabin": reservoir: rectifier: capacitance must be finite and above 0, got NaN; circuit: /,
  );
});
