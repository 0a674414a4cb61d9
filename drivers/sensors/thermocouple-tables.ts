/** Thermocouples by their IEC 60584-1 letters: nickel-chromium/nickel, iron/constantan, copper/constantan. */
export type ThermocoupleType = 'K' | 'J' | 'T';

/** A polynomial and where it holds, both ends included; of two pieces that meet the lower one is taken. */
export interface Piece {
  readonly from: number;
  readonly to: number;
  /** The constant first. */
  readonly coefficients: readonly number[];
}

/** The bell-shaped term that type K has above 0 degrees C: height * exp(rate * (t - centre)^2), in mV. */
export interface Bell {
  readonly height: number;
  readonly rate: number;
  readonly centre: number;
}

export interface ThermocoupleTable {
  /** mV from degrees C: the reference function. */
  readonly reference: readonly Piece[];
  readonly bell?: Bell;
  /** Degrees C from mV, good to about 0.05 K. Their range is where the thermocouple is read. */
  readonly inverse: readonly Piece[];
}

/**
 * Reference functions of IEC 60584-1 (ITS-90) and their inverses, as printed in NIST Monograph 175 and the NIST
 * ITS-90 thermocouple database.
 */
export const THERMOCOUPLES: Readonly<Record<ThermocoupleType, ThermocoupleTable>> = {
  K: {
    reference: [
      {
        from: -270,
        to: 0,
        coefficients: [
          0.0, 0.039450128025, 2.3622373598e-5, -3.2858906784e-7, -4.9904828777e-9, -6.7509059173e-11,
          -5.7410327428e-13, -3.1088872894e-15, -1.0451609365e-17, -1.9889266878e-20, -1.6322697486e-23,
        ],
      },
      {
        from: 0,
        to: 1372,
        coefficients: [
          -0.017600413686, 0.038921204975, 1.8558770032e-5, -9.9457592874e-8, 3.1840945719e-10,
          -5.6072844889e-13, 5.6075059059e-16, -3.2020720003e-19, 9.7151147152e-23, -1.2104721275e-26,
        ],
      },
    ],
    bell: { height: 0.1185976, rate: -0.0001183432, centre: 126.9686 },
    inverse: [
      {
        from: -5.891,
        to: 0,
        coefficients: [
          0.0, 25.173462, -1.1662878, -1.0833638, -0.8977354, -0.37342377, -0.086632643, -0.010450598,
          -0.00051920577,
        ],
      },
      {
        from: 0,
        to: 20.644,
        coefficients: [
          0.0, 25.08355, 0.07860106, -0.2503131, 0.0831527, -0.01228034, 0.0009804036, -4.41303e-5,
          1.057734e-6, -1.052755e-8,
        ],
      },
      {
        from: 20.644,
        to: 54.886,
        coefficients: [-131.8058, 48.30222, -1.646031, 0.05464731, -0.0009650715, 8.802193e-6, -3.11081e-8],
      },
    ],
  },
  J: {
    reference: [
      {
        from: -210,
        to: 760,
        coefficients: [
          0.0, 0.050381187815, 3.047583693e-5, -8.568106572e-8, 1.3228195295e-10, -1.7052958337e-13,
          2.0948090697e-16, -1.2538395336e-19, 1.5631725697e-23,
        ],
      },
      {
        from: 760,
        to: 1200,
        coefficients: [
          296.45625681, -1.4976127786, 0.0031787103924, -3.1847686701e-6, 1.5720819004e-9, -3.0691369056e-13,
        ],
      },
    ],
    inverse: [
      {
        from: -8.095,
        to: 0,
        coefficients: [
          0.0, 19.528268, -1.2286185, -1.0752178, -0.59086933, -0.17256713, -0.028131513, -0.002396337,
          -8.3823321e-5,
        ],
      },
      {
        from: 0,
        to: 42.919,
        coefficients: [
          0.0, 19.78425, -0.2001204, 0.01036969, -0.0002549687, 3.585153e-6, -5.344285e-8, 5.09989e-10,
        ],
      },
      {
        from: 42.919,
        to: 69.553,
        coefficients: [-3113.58187, 300.543684, -9.9477323, 0.17027663, -0.00143033468, 4.73886084e-6],
      },
    ],
  },
  T: {
    reference: [
      {
        from: -270,
        to: 0,
        coefficients: [
          0.0, 0.038748106364, 4.4194434347e-5, 1.1844323105e-7, 2.0032973554e-8, 9.0138019559e-10,
          2.2651156593e-11, 3.6071154205e-13, 3.8493939883e-15, 2.8213521925e-17, 1.4251594779e-19,
          4.8768662286e-22, 1.079553927e-24, 1.3945027062e-27, 7.9795153927e-31,
        ],
      },
      {
        from: 0,
        to: 400,
        coefficients: [
          0.0, 0.038748106364, 3.329222788e-5, 2.0618243404e-7, -2.1882256846e-9, 1.0996880928e-11,
          -3.0815758772e-14, 4.547913529e-17, -2.7512901673e-20,
        ],
      },
    ],
    inverse: [
      {
        from: -5.603,
        to: 0,
        coefficients: [
          0.0, 25.949192, -0.21316967, 0.79018692, 0.42527777, 0.13304473, 0.020241446, 0.0012668171,
        ],
      },
      {
        from: 0,
        to: 20.872,
        coefficients: [0.0, 25.928, -0.7602961, 0.04637791, -0.002165394, 6.048144e-5, -7.293422e-7],
      },
    ],
  },
};
