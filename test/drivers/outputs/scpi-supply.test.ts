import { describe, expect, it } from 'vitest';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiSupply } from '../../../drivers/outputs/scpi-supply.js';
import { headerMatcher, programUnits } from '../../../drivers/simulated/scpi-header.js';
import { manualClock } from '../../manual-clock.js';

/** A supply that knows OUTPut[:STATe] alone (SCPI-1999, volume 2, chapter 15). */
function supply(options: unknown, header = 'OUTPut[:STATe]') {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('supply');
  const said: string[] = [];
  let isOn = true;
  const isOutput = headerMatcher(header);
  far.onBytes((bytes) => {
    for (const unit of programUnits(Buffer.from(bytes).toString().trim())) {
      if (!isOutput(unit.header.replace(/\d+$/, ''))) continue;
      said.push(`${unit.header}${unit.isQuery ? '?' : ` ${unit.parameters.join()}`}`);
      if (unit.isQuery) far.send(Buffer.from(`${isOn ? 1 : 0}\n`));
      else isOn = ['ON', '1'].includes(unit.parameters[0] ?? '');
    }
  });
  const output = scpiSupply.start({ link, options, clock, emit: () => undefined });
  return {
    output,
    said,
    clock,
    turn: (on: boolean) => (isOn = on),
    isOn: () => isOn,
  };
}

describe('scpi-supply', () => {
  it('asks how the output is before anything, and leaves it so', () => {
    const { output, said, isOn } = supply({});
    expect(said).toEqual(['OUTP?']);
    expect(output.position).toBe('on');
    expect(isOn()).toBe(true);
  });

  it('switches off and on, and believes the supply alone', async () => {
    const { output, said, isOn } = supply({ output: 2 });
    await output.off();
    expect(isOn()).toBe(false);
    await output.on();
    expect(isOn()).toBe(true);
    expect(said).toEqual(['OUTP2?', 'OUTP2 OFF', 'OUTP2?', 'OUTP2 ON', 'OUTP2?']);
  });

  it('sees that somebody switched it off at its front', async () => {
    const { output, turn, clock } = supply({ ask_ms: 500 });
    await output.on();
    turn(false);
    clock.advance(500);
    output.keepAlive();
    expect(output.position).toBe('off');
  });

  it('refuses outputs that there are not', () => {
    expect(scpiSupply.checkOptions({ output: 0 }).map(({ key }) => key)).toEqual(['output']);
  });
});
