import { SupplyError } from './supply-error.js';
import type { Uncertain } from './supply.js';

/** Gives every uncertain number its place in the vector of a draw. */
export class ParameterList {
  readonly #supply: string;
  readonly #places = new Map<string, number>();
  readonly #list: Uncertain[] = [];

  constructor(supply: string) {
    this.#supply = supply;
  }

  get all(): readonly Uncertain[] {
    return this.#list;
  }

  /**
   * The place of this number; the same for every number of its name.
   * @throws {SupplyError} when two numbers of one name differ, or one isn't low <= typical <= high.
   */
  place(uncertain: Uncertain): number {
    const { name, low, typical, high } = uncertain;
    const known = this.#places.get(name);
    if (known !== undefined) {
      const other = this.#list[known]!;
      if (other.low === low && other.typical === typical && other.high === high) return known;
      throw this.#refuse(`${name} has two meanings: ${shown(other)} and ${shown(uncertain)}`);
    }
    if (!(low <= typical && typical <= high)) {
      throw this.#refuse(`${name} must rise from low over typical to high; it is ${shown(uncertain)}`);
    }
    this.#places.set(name, this.#list.length);
    return this.#list.push(uncertain) - 1;
  }

  #refuse(what: string): SupplyError {
    return new SupplyError('supply-contradictory', this.#supply, what);
  }
}

/** A number that is known: all three ends are the same. */
export function certain(name: string, value: number): Uncertain {
  return { name, low: value, typical: value, high: value };
}

function shown({ low, typical, high }: Uncertain): string {
  return `${low} / ${typical} / ${high}`;
}
