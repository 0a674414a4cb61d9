/** What stands between a test point and an instrument, as a person says it. */
export const SENSOR_WORDS: Readonly<Record<string, string>> = {
  thermocouple: 'thermocouple',
  pt100: 'Pt100',
  pt1000: 'Pt1000',
  ntc: 'NTC thermistor',
  shunt_ohms: 'shunt',
  divider: 'divider',
  probe: 'probe that divides',
  average_responding: 'average-responding meter',
};

/** The values of a sensor by their key in the bench file, with their units. */
export const LEAF_WORDS: Readonly<Record<string, string>> = {
  thermocouple: 'Type: K, J or T',
  cold_junction: 'Cold junction, °C or a channel’s name',
  class: 'Tolerance class',
  pt100: 'Wires: 2-wire, 3-wire or 4-wire',
  pt1000: 'Wires: 2-wire, 3-wire or 4-wire',
  lead_ohms: 'Both leads together, Ω',
  beta: 'B, K',
  r25: 'At 25 °C, Ω',
  beta_percent: 'B ±, %',
  r25_percent: 'At 25 °C ±, %',
  shunt_ohms: 'Shunt, Ω',
  divider: 'Divides by',
  probe: 'Divides by',
  average_responding: 'Shape of the wave',
};
