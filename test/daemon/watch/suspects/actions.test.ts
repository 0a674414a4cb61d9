import { describe, expect, it } from 'vitest';
import { describeDesign } from '../../../../daemon/predict/engine/description.js';
import { faultModels } from '../../../../daemon/predict/engine/faults.js';
import { OTHER_ACTION, actionOn } from '../../../../daemon/watch/suspects/actions.js';
import { example } from '../../design/topologies.js';
import { cabin } from '../../design/signal-cabin.js';

const faults = [cabin(), ...['goods-crane', 'level-crossing', 'turntable'].map((name) => example(name))]
  .flatMap((design) => faultModels(describeDesign(design)))
  .map(({ fault }) => fault);

describe('what to do about a suspect', () => {
  // Common practice: nobody works on a supply with the power on, and a reservoir stays charged after that.
  it.each([...new Set(faults)])('%s begins with switching off and names the charge that stays', (fault) => {
    const { switchOff, words } = actionOn(fault);
    expect(switchOff).toBe(true);
    expect(words).toMatch(/^Switch off and pull the plug\. The reservoir stays charged: measure it/);
    expect(words).not.toBe(OTHER_ACTION.words);
  });

  it('a healthy supply is left on', () => {
    expect(actionOn('healthy')).toMatchObject({ switchOff: false });
  });

  it('a fault without words of its own is treated as an unknown one', () => {
    expect(actionOn('constructor')).toBe(OTHER_ACTION);
  });
});
