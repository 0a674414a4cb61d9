import { describe, expect, it } from 'vitest';
import { DRIVERS } from '../../drivers/registry.js';

describe.each(Object.entries(DRIVERS))('driver %s', (word, driver) => {
  it('has the name under which the bench file finds it', () => {
    expect(driver.name).toBe(word);
    expect(word).toMatch(/^[a-z]+(-[a-z]+)*$/);
  });

  it('says in one line what it reads', () => {
    expect(driver.reads).toMatch(/^.{20,120}$/);
  });

  it.each([undefined, null, 7, 'text', [], { nonsense: 1 }])('bears the options %j', (options) => {
    expect(driver.checkOptions(options).length).toBeGreaterThan(0);
    expect(driver.channelsOf(options)).toEqual([]);
    expect(driver.intervalMs(options)).toBeGreaterThan(0);
  });
});
