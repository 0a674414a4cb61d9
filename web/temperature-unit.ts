export type TemperatureUnit = 'C' | 'F';

let shown: TemperatureUnit = 'C';

/** The unit in which the whole page writes temperatures; the daemon always speaks of degrees C. */
export function temperatureUnit(): TemperatureUnit {
  return shown;
}

/** From now on temperatures are written in this unit. What stands on the page already has to be drawn again. */
export function showTemperaturesIn(unit: TemperatureUnit): void {
  shown = unit;
}

/** Degrees F (ISO 80000-5: 1.8 times the degrees C, plus 32). */
export function fahrenheit(degreesC: number): number {
  return degreesC * 1.8 + 32;
}
