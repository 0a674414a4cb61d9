import { expect, test } from 'vitest';
import {
  airAt,
  channelFilm,
  churchillChu,
  radiationFilm,
  rayleigh,
  simplifiedFilm,
} from '../../../../daemon/predict/thermal/film.js';

// "Engineering simplified law" 1.42(ΔT/L)^0.25 as quoted twice: 6.35 at 40 K and 0.1 m, 7.4 at 37 K and 0.05 m.
test.each([
  [40, 0.1, 6.35, 3],
  [37, 0.05, 7.4, 1],
])('an upright plate %d K warmer, %d m high: %d W/(m²·K)', (rise, length, film, digits) => {
  expect(simplifiedFilm('vertical', rise, length)).toBeCloseTo(film, digits);
});

// Holman, Heat Transfer, Table 7-2, from memory.
test('a lying plate: 1.32 hot face up, 0.59 hot face down; turbulent past a Rayleigh number of 1e9', () => {
  expect(simplifiedFilm('face-up', 16, 1 / 16)).toBeCloseTo(1.32 * 4, 9);
  expect(simplifiedFilm('face-down', 16, 1 / 16)).toBeCloseTo(0.59 * 4, 9);
  expect(simplifiedFilm('vertical', 64, 2)).toBeCloseTo(1.31 * 4, 9);
  expect(simplifiedFilm('face-up', 64, 2)).toBeCloseTo(1.52 * 4, 9);
});

// Radiation example quoted with the plate law: 0.9·σ·(Ts² + Ta²)(Ts + Ta), 360 K and 323 K: 8.2 (exact 8.15).
test('radiation as a film', () => {
  expect(radiationFilm(0.9, 360 - 273.15, 323 - 273.15)).toBeCloseTo(8.15, 2);
});

// Incropera and DeWitt, Table A.4, from memory: air at 300 K and at 400 K.
test.each([
  [300, 0.0263, 15.89e-6, 0.707],
  [400, 0.0338, 26.41e-6, 0.69],
])('air at %d K', (kelvin, conductivity, viscosity, prandtl) => {
  const air = airAt(kelvin - 273.15);
  expect(Math.abs(air.conductivity / conductivity - 1)).toBeLessThan(0.01);
  expect(Math.abs(air.kinematicViscosity / viscosity - 1)).toBeLessThan(0.01);
  expect(Math.abs(air.prandtl / prandtl - 1)).toBeLessThan(0.01);
});

// By hand for air of Pr 0.71: (0.492/0.71)^(9/16) = 0.8136, 1.8136^(4/9) = 1.3029, 0.670/1.3029 = 0.5142;
// lecture notes print 0.59·Ra^¼ beside it, for the middle of the laminar range.
test('Churchill and Chu for air', () => {
  expect((churchillChu(1e6, 0.71) - 0.68) / 1e6 ** 0.25).toBeCloseTo(0.5142, 4);
  expect(Math.abs(churchillChu(1e6, 0.71) / (0.59 * 1e6 ** 0.25) - 1)).toBeLessThan(0.12);
});

// The simplified law is the same physics: 1.42(ΔT/L)^0.25 against 0.59·Ra^¼·k/L at a film of about 45 °C.
test('the simplified law is 0.59 Ra^¼ for air within 5 %', () => {
  const air = airAt(45);
  const film = (0.59 * rayleigh(air, 40, 0.1) ** 0.25 * air.conductivity) / 0.1;
  expect(Math.abs(simplifiedFilm('vertical', 40, 0.1) / film - 1)).toBeLessThan(0.05);
});

// Limits of Bar-Cohen and Rohsenow: far apart each plate is alone (0.59·Ra(L)^¼), close together Nu = El/24.
test('channels: two single plates far apart, choked close together', () => {
  const air = airAt(45);
  const alone = (0.59 * rayleigh(air, 40, 0.1) ** 0.25 * air.conductivity) / 0.1;
  expect(Math.abs(channelFilm(air, 40, 0.1, 0.1) / alone - 1)).toBeLessThan(0.01);
  const spacing = 0.001;
  const choked = (((rayleigh(air, 40, spacing) * spacing) / 0.1 / 24) * air.conductivity) / spacing;
  expect(Math.abs(channelFilm(air, 40, spacing, 0.1) / choked - 1)).toBeLessThan(0.01);
});
