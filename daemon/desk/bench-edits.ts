import { instrumentLines } from '../bench-text.js';
import { editedText, type EditValue } from '../design/edit-text.js';
import { withEntryAdded, withKeyNamed } from '../design/block-edits.js';
import { FileProblems } from '../design/file-problems.js';
import { groupIn } from '../design/form-choices.js';
import { readYaml, yamlValue } from '../design/yaml-text.js';
import { withNumberNamed } from '../draft-options.js';
import type { BenchEdit, InstrumentToAdd } from '../serve/instrument-messages.js';
import type { Measurand } from '../../drivers/driver.js';
import { printable } from '../../drivers/printable.js';
import { isRecord } from '../../drivers/options.js';
import { DRIVERS } from '../../drivers/registry.js';
import { foundChannels, valueIn } from './bench-written.js';

/** An edit that can't be made; the message is for a person. */
export class EditRefused extends Error {
  override readonly name = 'EditRefused';
}

/**
 * A bench file's text with a change in it. Only what the change is about is replaced.
 * @throws {EditRefused} when it can't be made.
 */
export function editedBench(text: string, edit: BenchEdit): string {
  const written = yamlValue(text);
  const isEmpty = written === null && edit.kind === 'add';
  if (Object.keys(groupIn(written)).length === 0 && !isEmpty) {
    throw new EditRefused('the file is no bench that can be read; put right what is marked first');
  }
  switch (edit.kind) {
    case 'add':
      return withInstrument(text, edit.instrument);
    case 'set':
      return withSet(text, edit.path, edit.value);
    case 'remove':
      return editedText(text, [{ path: ['instruments', edit.instrument], value: null }]);
    case 'options':
      return withSet(text, ['instruments', edit.instrument, 'options'], optionsIn(edit.typed));
    case 'rename-instrument':
      return withInstrumentNamed(text, edit.instrument, edit.name);
    case 'channel':
      return withChannel(text, edit);
  }
}

function withSet(text: string, path: readonly string[], value: EditValue | null): string {
  const [, instrument = '', group, channel = ''] = path;
  const isInChannel = group === 'channels' && path.length > 4 && value !== null;
  if (!isInChannel || isListed(text, instrument, channel)) return editedText(text, [{ path, value }]);
  // A channel that its driver finds by itself is listed once something more is said of it.
  const found = foundChannels(groupIn(valueIn(yamlValue(text), ['instruments', instrument])));
  const measures = found.find(({ name }) => name === channel)?.measures ?? 'dc-volts';
  return editedText(text, [
    { path: path.slice(0, 4), value: { measures } },
    { path, value },
  ]);
}

function optionsIn(typed: string): EditValue | null {
  if (typed.trim() === '') return null;
  const value = parsedOptions(typed);
  if (!isRecord(value)) throw new EditRefused('options are a group of settings such as { interval_s: 2 }');
  return value as EditValue;
}

function parsedOptions(typed: string): unknown {
  try {
    return readYaml(typed, 'options').value;
  } catch (error) {
    if (!(error instanceof FileProblems)) throw error;
    throw new EditRefused(`these options are no YAML: ${error.problems[0]?.text}`, { cause: error });
  }
}

function withInstrument(text: string, { link, ...rest }: InstrumentToAdd): string {
  const name = freeName(text, rest.name);
  const about = printable(rest.about, 120);
  const channels = rest.channels.map((channel) => ({ ...channel, about: printable(channel.about, 120) }));
  const draft = { ...rest, name, about, channels, ...(link !== null && { link }) };
  return withEntryAdded(text, 'instruments', instrumentLines(draft).join('\n'));
}

/** The name, with a number behind it when another instrument has it already. */
function freeName(text: string, name: string): string {
  const taken = Object.keys(groupIn(valueIn(yamlValue(text), ['instruments'])));
  if (!taken.includes(name)) return name;
  for (let number = 2; ; number += 1) if (!taken.includes(`${name}-${number}`)) return `${name}-${number}`;
}

function withInstrumentNamed(text: string, was: string, name: string): string {
  if (name === was) return text;
  const taken = Object.keys(groupIn(valueIn(yamlValue(text), ['instruments'])));
  if (taken.includes(name)) throw new EditRefused(`there is a ${name} already; choose another name`);
  if (name === '') throw new EditRefused('an instrument has a name, board for example');
  return withKeyNamed(text, ['instruments', was], name);
}

function withChannel(
  text: string,
  { instrument, channel, name, measures }: Extract<BenchEdit, { kind: 'channel' }>,
): string {
  const spec = groupIn(valueIn(yamlValue(text), ['instruments', instrument]));
  const found = foundChannels(spec);
  const listed = groupIn(spec['channels']);
  if (name === '') throw new EditRefused('a channel has a name, T1 or a test point for example');
  const isTaken = Object.hasOwn(listed, name) || found.some((one) => one.name === name);
  if (name !== channel && isTaken) throw new EditRefused(`there is a ${name} already; choose another name`);
  const own = found.find((one) => one.name === channel);
  const path = ['instruments', instrument, 'channels', channel];
  let now = own === undefined ? text : withOwnChannel(text, instrument, spec, own, { name, measures });
  if (!Object.hasOwn(listed, channel)) return now;
  now = editedText(now, [{ path: [...path, 'measures'], value: measures }]);
  return name === channel ? now : withKeyNamed(now, path, name);
}

/** A channel that stands in the driver's options, as a name in braces or a register's. */
function withOwnChannel(
  text: string,
  instrument: string,
  spec: Readonly<Record<string, unknown>>,
  own: { readonly name: string; readonly measures: Measurand },
  { name, measures }: { readonly name: string; readonly measures: string },
): string {
  const driver = String(spec['driver']);
  const options = groupIn(spec['options']);
  const number = { ...own, isSure: own.measures === measures };
  const named = withNumberNamed(driver, options, number, { name, measures: measures as Measurand });
  const changed = Object.entries(named).filter(
    ([key, value]) => JSON.stringify(value) !== JSON.stringify(options[key]),
  );
  const isThere = DRIVERS[driver]?.channelsOf(named).some((one) => one.name === name) === true;
  if (!isThere) {
    throw new EditRefused(`"${name}" can't be a name there; letters, digits, hyphens and dots are allowed`);
  }
  return editedText(
    text,
    changed.map(([key, value]) => ({
      path: ['instruments', instrument, 'options', key],
      value: value as EditValue,
    })),
  );
}

function isListed(text: string, instrument: string, channel: string): boolean {
  const channels = valueIn(yamlValue(text), ['instruments', instrument, 'channels']);
  return Object.hasOwn(groupIn(channels), channel);
}
