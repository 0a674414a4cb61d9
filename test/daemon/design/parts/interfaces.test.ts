import { describe, expect, it } from 'vitest';
import { interfaceResistance } from '../../../../daemon/design/parts/interfaces.js';

describe('between package and heatsink', () => {
  // ON Semiconductor AN1040/D, table 1, TO-220AB and TO-204AA (TO-3).
  it.each([
    ['dry', 1.2, 0.5],
    ['greased', 1.0, 0.1],
    ['mica-dry', 3.4, 1.3],
    ['mica-greased', 1.6, 0.36],
  ])('%s: %d K/W under a TO-220, %d K/W under a TO-3', (name, to220, to3) => {
    expect(interfaceResistance(name, 'TO-220').typical).toBe(to220);
    expect(interfaceResistance(name, 'TO-3').typical).toBe(to3);
  });

  // The same table, TO-126 (thermopad) at 6 in-lb.
  it.each([
    ['dry', 2],
    ['greased', 1.3],
    ['mica-dry', 4.3],
    ['mica-greased', 3.3],
  ])('%s: %d K/W under a TO-126', (name, to126) => {
    expect(interfaceResistance(name, 'TO-126').typical).toBe(to126);
  });

  it('refuses what the library lacks', () => {
    expect(() => interfaceResistance('glue', 'TO-220')).toThrow(
      'interface "glue" isn\'t in the part library',
    );
  });
});
