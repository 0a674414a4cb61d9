const CIRCUIT_WORDS: Readonly<Record<string, string>> = {
  mainsVolts: 'mains volts',
  windingVolts: 'winding volts',
  regulation: 'regulation of the transformer',
  diodeOffset: 'drop of the diodes',
  farads: 'capacitance of the reservoir',
  esr: 'resistance of the reservoir capacitor',
  ambient: 'air around it',
  enclosureRise: 'warmth inside the enclosure',
};

const RAIL_WORDS: Readonly<Record<string, string>> = {
  volts: 'reference or output of the regulator',
  r1: 'R1',
  r2: 'R2',
  adjustAmps: 'adjust-pin current',
  dropout: 'dropout',
  rejection_dB: 'ripple rejection',
  groundAmps: "regulator's own current",
  loadAmps: 'load',
  junctionCase: 'K/W from junction to case',
  caseSink: 'K/W of the interface',
  toAir: 'K/W to air',
  junctionAir: 'K/W of the bare package',
  rejectionWithCapacitor_dB: 'ripple rejection',
  farads: 'capacitance',
  esr: 'resistance of the capacitor',
  capacitance: 'capacitance',
  resistor: 'resistor',
  gain: 'current gain',
  threshold: 'gate-source volts',
  onResistance: 'resistance of the MOSFET',
  baseEmitter: 'base-emitter volts',
  saturation: 'saturation volts',
  zenerVolts: 'zener volts',
  zenerOhms: 'slope of the zener',
  losses: 'losses',
  ownRipple: 'ripple of its own',
};

/** What a person calls an uncertain value: `mainsVolts` is the mains volts, `lamps.r2` is lamps R2. */
export function sourceWords(name: string): string {
  const [first = '', second] = name.split('.');
  if (second === undefined) return CIRCUIT_WORDS[first] ?? name;
  return `${first} ${RAIL_WORDS[second] ?? second}`;
}
