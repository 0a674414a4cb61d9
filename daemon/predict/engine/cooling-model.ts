import { barePackageSurface } from '../thermal/bare-package.js';
import { heatsinkSurface } from '../thermal/heatsink-size.js';
import { surfaceTemperature } from '../thermal/surface.js';
import type { SurfaceLaw } from '../thermal/surface.js';
import type { ParameterList } from './parameters.js';
import type { CoolingDescription, HeatsinkDescription, PackageDescription } from './supply.js';

/** Rise that a heatsink given by its measures is worked out at, K (common practice: 30 to 60). */
const HEATSINK_RISE = 40;
const ROOM = 25;

/** Case to air of a bare TO-220, which the surface figures below belong to, K/W. */
const TO_220_CASE_TO_AIR = 52;
/** Both faces and the rim of a TO-220, m2 (from its outline); emissivity and W/K of its leads from memory. */
const TO_220_SURFACE = { radiatingArea: 6e-4, emissivity: 0.75, conduction: 0.005 };

/** How a bare package of these K/W gives its heat to the air; other packages as a larger or smaller TO-220. */
export function packageSurface(junctionToAir: number, junctionToCase: number): SurfaceLaw {
  const scale = TO_220_CASE_TO_AIR / (junctionToAir - junctionToCase);
  return barePackageSurface({
    junctionToAir,
    junctionToCase,
    radiatingArea: scale * TO_220_SURFACE.radiatingArea,
    emissivity: TO_220_SURFACE.emissivity,
    conduction: scale * TO_220_SURFACE.conduction,
  });
}

/** A heatsink's law towards the air, each way scaled by 1/`factor`. */
export function sinkSurface(heatsink: HeatsinkDescription): SurfaceLaw {
  return heatsink.kind === 'rated'
    ? { conduction: 1 / heatsink.toAir.typical, convection: 0, radiation: 0 }
    : heatsinkSurface(heatsink.size, HEATSINK_RISE, ROOM);
}

/** A heatsink and the air: where it settles. */
export class SinkModel {
  readonly #rated: boolean;
  readonly #law: SurfaceLaw;
  readonly #place: number;

  constructor(heatsink: HeatsinkDescription, list: ParameterList) {
    this.#rated = heatsink.kind === 'rated';
    this.#law = sinkSurface(heatsink);
    this.#place = list.place(heatsink.kind === 'rated' ? heatsink.toAir : heatsink.factor);
    if (heatsink.kind === 'rated') list.place(heatsink.capacity);
  }

  /** Degrees C at this heat from all the parts on it. A law scaled by 1/factor is the law at factor times the heat. */
  temperature(values: Float64Array, watts: number, air: number): number {
    const value = values[this.#place]!;
    return this.#rated ? air + watts * value : surfaceTemperature(this.#law, watts * value, air);
  }
}

/** One cooled part: package, interface and what it sits on. */
export class CoolingModel {
  /** The name of the shared heatsink that it sits on; null for its own or none. */
  readonly sharedSink: string | null;
  case = 0;
  junction = 0;
  /** Of its own or the shared heatsink; the case's without one. */
  heatsink = 0;
  readonly #junctionToCase: number;
  readonly #junctionToAir: number;
  readonly #interface: number | null;
  readonly #sink: SinkModel | null;
  readonly #bare: SurfaceLaw;
  readonly #bareCaseToAir: number;
  readonly #probeContact: number;

  constructor(cooling: CoolingDescription, list: ParameterList) {
    const { mounting } = cooling;
    const { junctionToCase, junctionToAir, caseCapacity }: PackageDescription = cooling.package;
    this.#junctionToCase = list.place(junctionToCase);
    this.#junctionToAir = list.place(junctionToAir);
    list.place(caseCapacity);
    this.#bare = packageSurface(junctionToAir.typical, junctionToCase.typical);
    this.#bareCaseToAir = junctionToAir.typical - junctionToCase.typical;
    this.#probeContact = cooling.probeContact;
    // Numbers of a heatsink that was left out keep their place, so that a faulty supply's draws match a healthy one's.
    const place = mounting === null ? null : list.place(mounting.interface);
    const own = mounting === null || typeof mounting.heatsink === 'string' ? null : mounting.heatsink;
    const sink = own === null ? null : new SinkModel(own, list);
    const fitted = mounting !== null && mounting.fitted;
    this.#interface = fitted ? place : null;
    this.#sink = fitted ? sink : null;
    this.sharedSink = fitted && typeof mounting.heatsink === 'string' ? mounting.heatsink : null;
  }

  /** Works out the steady temperatures; `shared` is the shared heatsink's, where it sits on one. */
  settle(values: Float64Array, watts: number, air: number, shared: number): void {
    const junctionToCase = values[this.#junctionToCase]!;
    if (this.#interface === null) {
      const share = (values[this.#junctionToAir]! - junctionToCase) / this.#bareCaseToAir;
      this.case = surfaceTemperature(this.#bare, watts * share, air);
      this.heatsink = this.case;
    } else {
      this.heatsink = this.#sink === null ? shared : this.#sink.temperature(values, watts, air);
      this.case = this.heatsink + watts * values[this.#interface]!;
    }
    this.junction = this.case + watts * junctionToCase;
  }

  /** What a probe on the case reads, degrees C. */
  probe(air: number): number {
    return air + this.#probeContact * (this.case - air);
  }
}
