import type { LoadState } from './design/design.js';
import type { Step, StepKind } from './procedure/step.js';
import type { Session } from './session.js';
import type { Clock } from '../drivers/clock.js';
import type { SimulatedBench } from '../drivers/simulated/simulated-bench.js';

/** Session time from pulling the plug to switching on again; the reservoir is empty by then. */
const HANDS_OFF_MS = 20_000;
/**
 * What hangs on the rails in each step; one that isn't named is done with the plug out. The transformer alone is
 * among those: the simulated supply can't be taken apart.
 */
const HUNG: Readonly<Partial<Record<StepKind, LoadState>>> = {
  raw: 'idle',
  rails: 'idle',
  'dummy-load': 'full',
  soak: 'full',
  'real-load': 'typical',
  lid: 'typical',
  'sign-off': 'typical',
};
/** The board that reads the rails: unplugged while no regulator is joined yet, for the simulated supply always has them. */
const RAILS_BOARD = 'rails';

/** Does at the simulated supply what each step of a power-up says: plug out, change what hangs on it, plug in. */
export function lendHands(session: Session, table: SimulatedBench, clock: Clock): void {
  const hands = new Hands(table, clock);
  session.onStep((_event, { plan }, effects) => {
    for (const effect of effects) {
      if (effect.kind !== 'step') continue;
      const step = plan.procedure?.steps.find(({ id }) => id === effect.step);
      if (effect.change === 'began' && step !== undefined) hands.begin(step);
      if (effect.change === 'aborted') hands.switchOff();
    }
  });
}

class Hands {
  readonly #table: SimulatedBench;
  readonly #clock: Clock;
  #hung: LoadState | null = null;
  #boardIsIn = true;
  #cancel: () => void = () => undefined;

  constructor(table: SimulatedBench, clock: Clock) {
    this.#table = table;
    this.#clock = clock;
  }

  begin({ kind, fromDead }: Step): void {
    const load = HUNG[kind];
    this.#readRails(kind !== 'raw');
    if (load === undefined) return this.switchOff();
    if (!fromDead && this.#hung === load) return;
    this.switchOff();
    this.#hung = load;
    this.#cancel = this.#clock.after(HANDS_OFF_MS, () => {
      this.#table.setLoad(load);
      this.#table.power('on');
    });
  }

  switchOff(): void {
    this.#cancel();
    this.#hung = null;
    this.#table.power('off');
  }

  #readRails(wanted: boolean): void {
    if (wanted === this.#boardIsIn) return;
    this.#boardIsIn = wanted;
    void (wanted ? this.#table.plugIn(RAILS_BOARD) : this.#table.unplug(RAILS_BOARD));
  }
}
