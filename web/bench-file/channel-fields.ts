import { css, html, nothing, type CSSResult, type TemplateResult } from 'lit';
import type {
  BenchEdit,
  BenchProblem,
  ChannelForm,
  EditValue,
  OpenedBench,
} from '../../daemon/serve/instrument-messages.js';
import { LEAF_WORDS, SENSOR_WORDS } from './sensor-words.js';

const ACCURACY_WORDS = {
  percent: 'Accuracy, % of the reading',
  counts: 'and counts of the last digit',
  resolution: 'one count is, in its unit',
} as const;

export interface ChannelContext {
  readonly instrument: string;
  readonly opened: OpenedBench;
  readonly problems: readonly BenchProblem[];
  readonly onEdit: (...edits: readonly BenchEdit[]) => void;
}

/** One channel: its name, what it measures, where it sits, what stands between, how exact it is. */
export function channelFields(channel: ChannelForm, context: ChannelContext): TemplateResult {
  const { instrument, opened, onEdit } = context;
  const { name, measures, at } = channel;
  const path = ['instruments', instrument, 'channels', name];
  const id = `channel-${name}`;
  const wrong = context.problems.filter(({ key }) => isWithin(key, path));
  const kind = String(channel.sensor[0]?.path[1] ?? '');
  const edit = (changes: Partial<{ name: string; measures: string }>): void =>
    onEdit({ kind: 'channel', instrument, channel: name, name, measures, ...changes });
  const set = (keys: readonly string[], value: EditValue | null): void =>
    onEdit({ kind: 'set', path: [...path, ...keys], value });
  return html`<details class="channel" ?open=${wrong.length > 0}>
    <summary>
      <strong>${name}</strong>
      <span class="quiet"
        >${measures === '' ? 'measures nothing yet' : measures}${at === null ? '' : `, on ${at}`}${kind === '' ? '' : `, through a ${SENSOR_WORDS[kind] ?? kind}`}</span
      >
    </summary>
    ${wrong.map(({ words }) => html`<p class="problem">${words}</p>`)}
    <div class="fields">
      ${textField(`${id}-name`, 'Channel name', name, (typed) => edit({ name: typed }))}
      ${choiceField(`${id}-measures`, 'The instrument measures', opened.measurands, measures, (measured) => edit({ measures: measured }))}
      ${choiceField(
        `${id}-at`,
        'Its probe sits on',
        opened.points.filter(({ measurands }) => measurands.length > 0).map(({ id: point }) => point),
        at ?? '',
        (point) => set(['at'], point === '' ? null : point),
        'no test point yet',
      )}
      ${choiceField(
        `${id}-sensor`,
        'Between probe and instrument',
        opened.sensors.map((sensor) => sensor.kind),
        kind,
        (chosen) => set(['sensor'], opened.sensors.find((sensor) => sensor.kind === chosen)?.example ?? null),
        'nothing',
        SENSOR_WORDS,
      )}
      ${channel.sensor.map((leaf) =>
        textField(
          `${id}-${leaf.path.join('-')}`,
          LEAF_WORDS[leaf.path.at(-1) ?? ''] ?? leaf.path.slice(1).join(' '),
          String(leaf.value),
          (typed) => set(leaf.path, numberOrText(typed)),
        ),
      )}
      ${(['percent', 'counts', 'resolution'] as const).map((key) =>
        textField(`${id}-${key}`, ACCURACY_WORDS[key], String(channel.accuracy[key] ?? ''), (typed) =>
          set(['accuracy', key], numberOrText(typed)),
        ),
      )}
    </div>
    ${
      channel.isListed
        ? html`<button class="button" @click=${() => onEdit({ kind: 'set', path, value: null })}>
            Take ${name} off the list
          </button>`
        : nothing
    }
  </details>`;
}

/** Whether a problem's key is this one or within it. */
export function isWithin(key: string, path: readonly string[]): boolean {
  const whole = path.join('.');
  return key === whole || key.startsWith(`${whole}.`);
}

/** A field that is taken when it is left or Enter is pressed. */
export function textField(
  id: string,
  label: string,
  written: string,
  onTyped: (typed: string) => void,
): TemplateResult {
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <input
      id=${id}
      type="text"
      autocomplete="off"
      spellcheck="false"
      data-written=${written}
      @change=${(event: Event) => onTyped((event.target as HTMLInputElement).value.trim())}
    />
  </div>`;
}

/** A choice of words; `none` is what stands for the empty one, where there may be none. */
export function choiceField(
  id: string,
  label: string,
  choices: readonly string[],
  chosen: string,
  onChosen: (choice: string) => void,
  none?: string,
  words: Readonly<Record<string, string>> = {},
): TemplateResult {
  const isOdd = chosen !== '' && !choices.includes(chosen);
  return html`<div class="field">
    <label for=${id}>${label}</label>
    <select id=${id} @change=${(event: Event) => onChosen((event.target as HTMLSelectElement).value)}>
      ${none === undefined && chosen !== '' ? nothing : html`<option value="" ?selected=${chosen === ''}>${none ?? 'choose'}</option>`}
      ${isOdd ? html`<option value=${chosen} selected>${chosen}</option>` : nothing}
      ${choices.map((choice) => html`<option value=${choice} ?selected=${choice === chosen}>${words[choice] ?? choice}</option>`)}
    </select>
  </div>`;
}

function numberOrText(typed: string): EditValue | null {
  if (typed === '') return null;
  const number = Number(typed.replace(',', '.').replace('\u2212', '-'));
  return Number.isFinite(number) ? number : typed;
}

export const channelStyles: CSSResult = css`
  .channel {
    border-top: 1px solid var(--edge);
  }
  .channel summary {
    padding: 0.4rem 0;
    min-height: 2rem;
    overflow-wrap: anywhere;
  }
  .channel .fields {
    align-items: end;
    padding: 0.2rem 0 0.8rem;
  }
  .channel .button {
    margin-bottom: 1rem;
  }
  summary {
    cursor: pointer;
  }
  .field input,
  .field select {
    width: 100%;
  }
`;
