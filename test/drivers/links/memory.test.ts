import { describe, expect, it } from 'vitest';
import { LinkNotOpen } from '../../../drivers/links/link-not-open.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { listenTo } from './heard.js';

describe('memoryLinkPair', () => {
  it('opens under its name and carries bytes both ways, copied', async () => {
    const { link, far } = memoryLinkPair('desk');
    const heard = listenTo(link);
    const written: string[] = [];
    far.onBytes((bytes) => void written.push(Buffer.from(bytes).toString()));
    const bytes = Buffer.from('12.06\n');
    far.send(bytes);
    bytes.fill(0);
    await link.write(Buffer.from('READ?\n'));
    expect(heard.states).toEqual([{ kind: 'open', path: 'desk' }]);
    expect(heard.text()).toBe('12.06\n');
    expect(written).toEqual(['READ?\n']);
  });

  it('tells a loss and a return under another path, and loses what is said in between', async () => {
    const { link, far } = memoryLinkPair('desk');
    const heard = listenTo(link);
    far.unplug('pulled out');
    far.send(Buffer.from('unheard'));
    await expect(link.write(Buffer.from('READ?\n'))).rejects.toBeInstanceOf(LinkNotOpen);
    far.plugIn('desk 2');
    expect(heard.states.slice(1)).toEqual([
      { kind: 'lost', why: 'pulled out' },
      { kind: 'back', path: 'desk 2' },
    ]);
    expect(heard.text()).toBe('');
  });

  it('waits with the reason when it starts unplugged, then opens for the first time', () => {
    const { link, far } = memoryLinkPair('desk');
    far.unplug('not there yet');
    const heard = listenTo(link);
    far.plugIn('desk');
    expect(heard.states.map((state) => state.kind)).toEqual(['waiting', 'open']);
  });

  it('is closed once, and silent after that', async () => {
    const { link, far } = memoryLinkPair('desk');
    const heard = listenTo(link);
    await link.stop();
    await link.stop();
    far.send(Buffer.from('unheard'));
    far.unplug('too late');
    expect(heard.states.map((state) => state.kind)).toEqual(['open', 'closed']);
    expect(heard.text()).toBe('');
    await expect(link.write(Buffer.from('x'))).rejects.toBeInstanceOf(LinkNotOpen);
  });
});
