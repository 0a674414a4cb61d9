/** How a unit is written beside a field, by the word that the schema has for it. */
const UNITS: Readonly<Record<string, string>> = {
  volts: 'V',
  'volts RMS': 'V rms',
  'volts peak to peak': 'V pp',
  amps: 'A',
  'amps RMS': 'A rms',
  ohms: 'Ω',
  watts: 'W',
  microfarads: 'µF',
  'volt-amperes': 'VA',
  kelvins: 'K',
  'degrees C': '°C',
  millimetres: 'mm',
  percent: '%',
  'percent below the mains volts, written with a minus': '%',
  'percent above the mains volts': '%',
  fins: '',
};

/** Keys whose words don't make a label by themselves. */
const LABELS: Readonly<Record<string, string>> = {
  'mains.volts': 'Mains volts',
  'mains.hertz': 'Frequency',
  'mains.tolerance': 'How far the mains may be off',
  'mains.tolerance.low_percent': 'Lowest mains',
  'mains.tolerance.high_percent': 'Highest mains',
  'mains.ambient.typical': 'Air around it',
  'mains.ambient.highest': 'Air on the hottest day',
  'mains.enclosure_rise': 'Warmer inside the box by',
  'transformer.volts': 'Secondary volts',
  'transformer.va': 'Rating',
  'transformer.amps': 'Rated amps',
  'transformer.regulation_percent': 'Regulation',
  'transformer.winding_ohms': 'Winding resistance',
  'transformer.fuse_amps': 'Primary fuse',
  'rectifier.kind': 'Rectifier',
  'rectifier.drop': 'Drop of one diode',
  'reservoir.esr': 'ESR',
  'reservoir.working_volts': 'Working volts',
  'reservoir.ripple_amps': 'Ripple-current rating',
  'reservoir.bleed': 'Bleed resistor',
  'filter.kind': 'Filter',
  'rails.*.from': 'Fed from',
  'rails.*.series': 'Resistor before it',
  'rails.*.r1': 'R1, output to adjust',
  'rails.*.r2': 'R2, adjust to ground',
  'rails.*.adjust_capacitor_uF': 'Capacitor at adjust',
  'rails.*.cooling.interface': 'Between case and heatsink',
  'rails.*.cooling.heat_capacity': 'Heat capacity of the heatsink',
  'rails.*.load': 'Load, always',
  'rails.*.load.idle': 'Load, idle',
  'rails.*.load.typical': 'Load, typical',
  'rails.*.load.full': 'Load, full',
  'rails.*.damage.low': 'Load harmed below',
  'rails.*.damage.high': 'Load harmed above',
  design: 'Name of the supply',
};

/** Endings of keys that the unit beside the field says already. */
const UNIT_ENDINGS = /_(uF|dB|percent|mm|ohms|amps|volts)$/;

/** Groups of things with names of their own. */
const NAMED_GROUPS: readonly string[] = ['heatsinks', 'points'];

/** A path with every rail's name as `*`. */
export function anyRail(path: readonly string[]): string {
  return path.map((part, i) => (i === 1 && path[0] === 'rails' ? '*' : part)).join('.');
}

/** What a person calls the value at a path. */
export function labelAt(path: readonly string[]): string {
  const known = LABELS[anyRail(path).replace(/^negative_/, '')];
  if (known !== undefined) return known;
  const words = (path.at(-1) ?? '').replace(UNIT_ENDINGS, '').replaceAll('_', ' ');
  const [group = '', name = '', ofKind] = path;
  if (path.length > 1 && group === 'parts') return `${ofKind ?? name}: ${words}`;
  if (path.length > 1 && NAMED_GROUPS.includes(group)) return path.length === 2 ? name : `${name}: ${words}`;
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** What stands beside a field for numbers of this. */
export function unitOf(counted: string): string {
  return UNITS[counted] ?? counted;
}
