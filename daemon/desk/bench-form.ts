import { stringify } from 'yaml';
import { groupIn } from '../design/form-choices.js';
import { yamlValue } from '../design/yaml-text.js';
import type { ChannelForm, InstrumentForm, LeafForm, LinkForm } from '../serve/instrument-messages.js';
import { foundChannels, valueIn } from './bench-written.js';

const LINK_KINDS = ['serial', 'usb', 'usbtmc', 'tcp'] as const;
/** What the bench file takes while nothing is written. */
const USUAL_BAUD = 9600;
const DEEPEST_LEAF = 6;

/** The instruments of a bench file as a form, whatever is wrong with them. */
export function benchForm(text: string): readonly InstrumentForm[] {
  const instruments = groupIn(valueIn(yamlValue(text), ['instruments']));
  return Object.entries(instruments).map(([name, spec]) => instrumentForm(name, groupIn(spec)));
}

function instrumentForm(name: string, spec: Readonly<Record<string, unknown>>): InstrumentForm {
  const options = groupIn(spec['options']);
  const { pattern } = options;
  const listed = groupIn(spec['channels']);
  const found = foundChannels(spec).filter((channel) => !Object.hasOwn(listed, channel.name));
  return {
    name,
    driver: wordIn(spec['driver']),
    link: linkForm(spec['link']),
    pattern: typeof pattern === 'string' ? pattern : null,
    options: Object.keys(options).length === 0 ? '' : inline(options),
    channels: [
      ...Object.entries(listed).map(([channel, says]) => channelForm(channel, true, groupIn(says))),
      ...found.map((channel) => channelForm(channel.name, false, { measures: channel.measures })),
    ],
  };
}

function linkForm(written: unknown): LinkForm | null {
  const link = groupIn(written);
  const kind = LINK_KINDS.find((one) => Object.hasOwn(link, one));
  if (kind === undefined) return null;
  const { baud } = link;
  const hasBaud = kind === 'serial' || kind === 'usb';
  return {
    kind,
    place: wordIn(link[kind]),
    baud: hasBaud ? (typeof baud === 'number' ? baud : USUAL_BAUD) : null,
  };
}

function channelForm(name: string, isListed: boolean, says: Readonly<Record<string, unknown>>): ChannelForm {
  const { measures, at, sensor, accuracy } = says;
  const { percent, counts, resolution } = groupIn(accuracy);
  return {
    name,
    isListed,
    measures: wordIn(measures),
    at: typeof at === 'string' ? at : null,
    sensor: leaves(sensor, ['sensor']),
    accuracy: { percent: numberIn(percent), counts: numberIn(counts), resolution: numberIn(resolution) },
  };
}

function leaves(value: unknown, path: readonly string[]): readonly LeafForm[] {
  if (typeof value === 'string' || typeof value === 'number') return [{ path, value }];
  if (path.length > DEEPEST_LEAF) return [];
  return Object.entries(groupIn(value)).flatMap(([key, inner]) => leaves(inner, [...path, key]));
}

function inline(value: unknown): string {
  return stringify(value, { collectionStyle: 'flow', lineWidth: 0 }).trim();
}

function wordIn(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

function numberIn(value: unknown): number | null {
  return typeof value === 'number' ? value : null;
}
