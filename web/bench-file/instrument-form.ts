import { LitElement, css, html, nothing, type CSSResultGroup, type TemplateResult } from 'lit';
import type {
  BenchEdit,
  BenchProblem,
  InstrumentForm,
  LinkForm,
  OpenedBench,
} from '../../daemon/serve/instrument-messages.js';
import { fieldStyles, fillFields } from '../design/field.js';
import { sharedStyles } from '../theme.js';
import { channelFields, channelStyles, choiceField, isWithin, textField } from './channel-fields.js';
import './try-pattern.js';
import { tell } from '../tell.js';

const PLACE_WORDS: Readonly<Record<LinkForm['kind'], string>> = {
  serial: 'Serial port',
  usb: 'USB identity',
  usbtmc: 'USB instrument',
  tcp: 'Host and port',
};

/** What stands in a new link until a person writes their own. */
const FIRST_LINKS: Readonly<Record<LinkForm['kind'], Readonly<Record<string, string | number>>>> = {
  serial: { serial: '/dev/ttyUSB0', baud: 9600 },
  usb: { usb: '1a86:7523', baud: 9600 },
  usbtmc: { usbtmc: '/dev/usbtmc0' },
  tcp: { tcp: '192.168.0.5:5025' },
};
const LINK_KINDS: readonly LinkForm['kind'][] = ['serial', 'usb', 'usbtmc', 'tcp'];

/** One instrument of the bench file (`rm-bench-edit` with what changes). */
export class RmInstrumentForm extends LitElement {
  static override properties = {
    instrument: { attribute: false },
    opened: { attribute: false },
    problems: { attribute: false },
    running: { attribute: false },
  };
  declare instrument: InstrumentForm;
  declare opened: OpenedBench;
  declare problems: readonly BenchProblem[];
  /** The names of the instruments that run, whose lines can be tried. */
  declare running: readonly string[];

  static override styles: CSSResultGroup = [
    sharedStyles,
    fieldStyles,
    channelStyles,
    css`
      section {
        padding: 1rem 1.1rem 1.1rem;
        border: 1px solid var(--edge);
        border-radius: 0.6rem;
        background: var(--sheet);
      }
      .head {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: 0.4rem 1rem;
        margin-bottom: 0.6rem;
      }
      h3,
      p {
        overflow-wrap: anywhere;
      }
      .small,
      .wide {
        margin-top: 0.7rem;
      }
      .add {
        margin-top: 0.6rem;
      }
      h4 {
        margin: 1rem 0 0.3rem;
        font-size: 0.9375rem;
      }
    `,
  ];

  protected override updated(): void {
    fillFields(this.renderRoot as ShadowRoot);
  }

  protected override render(): TemplateResult {
    const { name, driver, link, channels } = this.instrument;
    const wrong = this.problems.filter(
      ({ key }) => isWithin(key, ['instruments', name]) && !this.#isOfChannel(key),
    );
    const reads = this.opened.drivers.find((one) => one.name === driver)?.reads;
    return html`<section aria-labelledby="title">
      <div class="head">
        <h3 id="title">${name}</h3>
        <button class="button" @click=${() => this.#edit({ kind: 'remove', instrument: name })}>
          Remove<span class="for-ears"> ${name}</span>
        </button>
      </div>
      ${wrong.map(({ words }) => html`<p class="problem">${words}</p>`)}
      <div class="fields">
        ${textField('name', 'Name', name, (typed) => this.#edit({ kind: 'rename-instrument', instrument: name, name: typed }))}
        ${choiceField(
          'driver',
          'Driver',
          this.opened.drivers.map((one) => one.name),
          driver,
          (chosen) => this.#setDriver(chosen),
        )}
        ${this.#isTyped(driver) && link === null ? nothing : this.#link(link)}
      </div>
      ${reads === undefined ? nothing : html`<p class="small quiet">${driver} reads ${reads}.</p>`}
      ${this.#options()}
      <h4>Channels</h4>
      ${
        channels.length === 0
          ? html`<p class="quiet small">None yet: its options name them, or they are listed here.</p>`
          : channels.map((channel) =>
              channelFields(channel, {
                instrument: name,
                opened: this.opened,
                problems: this.problems,
                onEdit: (...edits) => this.#edit(...edits),
              }),
            )
      }
      <button class="button add" @click=${() => this.#addChannel()}>
        Add a channel<span class="for-ears"> to ${name}</span>
      </button>
    </section>`;
  }

  #link(link: LinkForm | null): TemplateResult {
    const set = (key: string, value: string | number | null): void =>
      this.#edit({ kind: 'set', path: this.#path('link', key), value });
    return html`${choiceField(
      'joined',
      'Joined by',
      LINK_KINDS,
      link?.kind ?? '',
      (chosen) => this.#setLink(LINK_KINDS.find((kind) => kind === chosen)),
      'nothing',
      PLACE_WORDS,
    )}
    ${link === null ? nothing : textField('place', PLACE_WORDS[link.kind], link.place, (typed) => set(link.kind, typed))}
    ${
      link === null || link.baud === null
        ? nothing
        : textField('baud', 'Baud', String(link.baud), (typed) =>
            set('baud', typed === '' ? null : Number(typed) || typed),
          )
    }`;
  }

  #setLink(kind: LinkForm['kind'] | undefined): void {
    const value = kind === undefined ? null : FIRST_LINKS[kind];
    this.#edit({ kind: 'set', path: this.#path('link'), value });
  }

  /** Options belong to a driver; an instrument that a person reads has no link either. */
  #setDriver(driver: string): void {
    const gone = ['options', ...(this.#isTyped(driver) ? ['link'] : [])];
    this.#edit(
      { kind: 'set', path: this.#path('driver'), value: driver },
      ...gone.map((key) => ({ kind: 'set', path: this.#path(key), value: null }) as const),
    );
  }

  #isTyped(driver: string): boolean {
    return this.opened.drivers.some((one) => one.name === driver && one.isTyped);
  }

  #addChannel(): void {
    const taken = this.instrument.channels.map(({ name }) => name);
    let number = taken.length + 1;
    while (taken.includes(`channel-${number}`)) number += 1;
    const value = { measures: 'dc-volts' };
    this.#edit({ kind: 'set', path: this.#path('channels', `channel-${number}`), value });
  }

  #options(): TemplateResult {
    const { name, pattern, options } = this.instrument;
    if (this.#isTyped(this.instrument.driver) && options === '') return html``;
    if (pattern === null) {
      return html`<div class="wide">
        ${textField('options', 'Options of the driver, as YAML', options, (typed) => this.#edit({ kind: 'options', instrument: name, typed }))}
      </div>`;
    }
    return html`<div class="wide">
        ${textField('pattern', 'What a line looks like, numbers as {name}', pattern, (typed) =>
          this.#edit({
            kind: 'set',
            path: this.#path('options', 'pattern'),
            value: typed === '' ? null : typed,
          }),
        )}
      </div>
      <rm-try-pattern
        .pattern=${pattern}
        .running=${this.running.includes(name) ? name : null}
      ></rm-try-pattern>`;
  }

  #isOfChannel(key: string): boolean {
    return this.instrument.channels.some((channel) => isWithin(key, this.#path('channels', channel.name)));
  }

  #path(...keys: readonly string[]): readonly string[] {
    return ['instruments', this.instrument.name, ...keys];
  }

  #edit(...detail: readonly BenchEdit[]): void {
    tell(this, 'rm-bench-edit', detail);
  }
}

customElements.define('rm-instrument-form', RmInstrumentForm);
