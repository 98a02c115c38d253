import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../../src/1-photo/decode.js";
import type { Photo } from "../../../src/1-photo/photo.js";
import { plane } from "../../../src/core/plane.js";
import type { PrepareOptions } from "../../../src/index.js";
import { PHOTOGRAPHS, photographPath } from "../photograph.js";
import { encoded, luminance, tonesOf } from "./tones-of.js";

const COLUMNS = 240;
const ROWS = 300;
/** A pixel of the photo is a pixel of the piece. */
const piece: PrepareOptions = { widthMm: 24, linesPerInch: 254 };

/** A head and shoulders. */
const isFigure = (u: number, v: number): boolean =>
  ((u - 0.5) / 0.22) ** 2 + ((v - 0.38) / 0.26) ** 2 < 1 ||
  ((u - 0.5) / 0.42) ** 2 + ((v - 1) / 0.4) ** 2 < 1;
/** The middle of the face. */
const isFace = (u: number, v: number): boolean => Math.abs(u - 0.5) < 0.1 && Math.abs(v - 0.38) < 0.12;
/** L* of a face from 48 to 72, modelled and with fine detail. */
const face = (u: number, v: number): number => 60 + 7 * Math.sin(9 * u + 14 * v) + 5 * Math.sin(110 * u);
/** L* of sky and sea from 84 to 94. */
const sea = (u: number, v: number): number => 89 + 5 * Math.sin(5 * v + 2 * u);

/** A photo of a scene given in linear light by place 0..1, exact to 16 bits. */
function photoOf(light: (u: number, v: number) => number, opacity?: (u: number, v: number) => number): Photo {
  const at = (of: (u: number, v: number) => number) =>
    Uint16Array.from({ length: COLUMNS * ROWS }, (_, i) =>
      Math.round(65535 * of(((i % COLUMNS) + 0.5) / COLUMNS, (Math.floor(i / COLUMNS) + 0.5) / ROWS)),
    );
  return {
    luminance: plane(
      "encoded-luminance",
      at((u, v) => encoded(light(u, v))),
      ROWS,
      COLUMNS,
    ),
    ...(opacity && { opacity: plane("opacity", at(opacity), ROWS, COLUMNS) }),
    ...{ format: "png", sourceBits: 16, hadProfile: false, looksDamaged: false, orientation: 1, pages: 1 },
  };
}

/** A figure before the sea, with less light on the figure by so many stops. */
const figure = (stops: number): Photo =>
  photoOf((u, v) => (isFigure(u, v) ? luminance(face(u, v)) / 2 ** stops : luminance(sea(u, v))));

function statistics(tones: Float32Array, where: (u: number, v: number) => boolean) {
  const values = Array.from(tones).filter((_, i) =>
    where(((i % COLUMNS) + 0.5) / COLUMNS, (Math.floor(i / COLUMNS) + 0.5) / ROWS),
  );
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  return { mean, deviation: Math.sqrt(variance) };
}

const furthest = (a: Float32Array, b: Float32Array): number =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

describe("a backlit figure", () => {
  it.each([2.5, 3])(
    "with %d stops too little light comes within 15 L* of one that is lit evenly, and within 6 at full strength",
    async (stops) => {
      const [even, plain, lifted, full] = await Promise.all([
        tonesOf(figure(0), { ...piece, lift: 0 }),
        tonesOf(figure(stops), { ...piece, lift: 0 }),
        tonesOf(figure(stops), piece),
        tonesOf(figure(stops), { ...piece, lift: 1 }),
      ]);
      expect(lifted.strength).toBeGreaterThan(0.5);
      expect(full.strength).toBe(1);
      const [wanted, before, after, most] = [even, plain, lifted, full].map(({ tones }) =>
        statistics(tones, isFace),
      );
      expect(wanted.mean - before.mean).toBeGreaterThan(27);
      expect(wanted.mean - after.mean).toBeLessThan(15);
      expect(wanted.mean - most.mean).toBeLessThan(6);
      // Modelling and detail of the face stay.
      expect(after.deviation).toBeGreaterThan(0.95 * before.deviation);
      // Sky and sea stay; three pixels beside the figure are soft from resampling.
      const far = (u: number, v: number) => v < 0.08 || (v < 0.6 && Math.abs(u - 0.5) > 0.3);
      const [bright, same] = [plain, lifted].map(({ tones }) => statistics(tones, far));
      expect(Math.abs(bright.mean - same.mean)).toBeLessThan(0.01);
      expect(Math.abs(bright.deviation - same.deviation)).toBeLessThan(0.01);
    },
  );

  it("is lifted by a strength that grows and falls without a jump, and not at all if it is lit well or a silhouette", async () => {
    const stops = Array.from({ length: 71 }, (_, i) => i / 10);
    const strengths = await Promise.all(
      stops.map(async (stop) => (await tonesOf(figure(stop), { ...piece, linesPerInch: 100 })).strength),
    );
    for (const stop of [0, 10, 65, 70]) expect(strengths[stop], `${stop / 10} stops`).toBe(0);
    // A tenth of a stop is less than 1.3 L* here.
    for (let i = 1; i < stops.length; i++) {
      expect(Math.abs(strengths[i] - strengths[i - 1]), `${stops[i]} stops`).toBeLessThan(0.25);
    }
  });

  it("is not lifted with a strength of 0, nor by itself without automatic levels", async () => {
    const backlit = figure(3);
    const [off, plain, asked] = await Promise.all([
      tonesOf(backlit, { ...piece, autoTone: false, lift: 0 }),
      tonesOf(backlit, { ...piece, autoTone: false }),
      tonesOf(backlit, { ...piece, autoTone: false, lift: 0.5 }),
    ]);
    expect([off, plain, asked].map(({ strength }) => strength)).toEqual([0, 0, 0.5]);
    expect(plain.tones).toEqual(off.tones);
    expect(statistics(asked.tones, isFace).mean).toBeGreaterThan(statistics(off.tones, isFace).mean + 8);
  });

  it("is lifted the same in a mirror", async () => {
    const lopsided = photoOf((u, v) =>
      isFigure(u + 0.1, v) ? luminance(face(u, v)) / 8 : luminance(sea(u, v)),
    );
    const [straight, mirrored] = await Promise.all(
      [false, true].map((mirror) => tonesOf(lopsided, { ...piece, mirror })),
    );
    const back = mirrored.tones.slice();
    for (let y = 0; y < ROWS; y++) back.subarray(y * COLUMNS, (y + 1) * COLUMNS).reverse();
    expect(furthest(back, straight.tones)).toBeLessThan(0.05);
    expect(straight.strength).toBeGreaterThan(0.5);
  });

  it("is lifted in a negative as in the photo: what the scene has dark becomes less light", async () => {
    const [straight, negative] = await Promise.all(
      [false, true].map((negative) => tonesOf(figure(3), { ...piece, negative, lift: 0.7 })),
    );
    // The surroundings come from a smaller picture, made in linear light: from that of the negative they differ a little.
    expect(
      furthest(
        negative.tones,
        straight.tones.map((tone) => 100 - tone),
      ),
    ).toBeLessThan(1);
  });

  it("is lifted on a cone and on a cylinder too", async () => {
    for (const aroundMm of [20, { topMm: 22, bottomMm: 18 }]) {
      const round = { aroundMm, linesPerInch: 254 };
      const [plain, lifted] = await Promise.all(
        [0, 0.8].map((lift) => tonesOf(figure(3), { ...round, lift })),
      );
      const middle = (tones: Float32Array) => tones[(plain.rows >> 1) * plain.columns + (plain.columns >> 1)];
      expect(middle(lifted.tones) - middle(plain.tones)).toBeGreaterThan(8);
    }
  });
});

describe("flat artwork", () => {
  const badge = photoOf((u, v) => (isFigure(u, v) ? luminance(v < 0.5 ? 60 : 66) / 2 ** 2.5 : luminance(89)));

  it("is not lifted by itself, because its dark parts were drawn dark", async () => {
    const [own, off, asked] = await Promise.all(
      [undefined, 0, 0.5].map((lift) => tonesOf(badge, { ...piece, lift })),
    );
    expect(own.strength).toBe(0);
    expect(own.tones).toEqual(off.tones);
    expect(asked.strength).toBe(0.5);
  });
});

describe("the parts of a picture that are not engraved", () => {
  /** Dark in the oval, light outside it. */
  const inOval = (u: number, v: number): boolean => (u - 0.5) ** 2 + (v - 0.5) ** 2 < 0.25;

  it("do not make it backlit: outside an oval", async () => {
    const plain = { ...piece, clipPercent: 0 };
    const light = photoOf((u, v) => luminance(inOval(u, v) ? (v < 0.9 ? 20 + 5 * Math.sin(9 * u) : 92) : 92));
    expect((await tonesOf(light, { ...plain, oval: true })).strength).toBe(0);
    expect((await tonesOf(light, plain)).strength).toBeGreaterThan(0.1);
  });

  it("do not make it backlit: behind transparency", async () => {
    const cutOut = photoOf(
      (u, v) => luminance(inOval(u, v) ? 20 + 5 * Math.sin(9 * u + 14 * v) : 92),
      (u, v) => (inOval(u, v) ? 1 : 0),
    );
    for (const material of ["maple", "slate"]) {
      expect((await tonesOf(cutOut, { ...piece, autoTone: true, material })).strength).toBe(0);
    }
  });

  it("do not change how it is lifted: on a bare surface that is light or dark", async () => {
    const half = (u: number, v: number) => (inOval(u, v) ? 1 : 0);
    const cutOut = photoOf(
      (u, v) => (isFigure(u, v) ? luminance(20 + 4 * Math.sin(9 * u)) : luminance(88)),
      half,
    );
    const [light, dark] = await Promise.all(
      ["maple", "slate"].map((material) => tonesOf(cutOut, { ...piece, material, lift: 1 })),
    );
    expect(
      furthest(
        light.tones.map((tone, i) => (inside(i) ? tone : 0)),
        dark.tones.map((tone, i) => (inside(i) ? tone : 0)),
      ),
    ).toBeLessThan(1);
  });
  const inside = (i: number): boolean =>
    (((i % COLUMNS) + 0.5) / COLUMNS - 0.5) ** 2 + ((Math.floor(i / COLUMNS) + 0.5) / ROWS - 0.5) ** 2 < 0.24;
});

describe("a picture that needs no lift", () => {
  const samples = ["harbour", "dog-on-quay", "lighthouse", "nets", "portrait"].map(
    (name) => [name, new URL(`../../../sample-images/${name}.jpg`, import.meta.url)] as const,
  );
  const museum = PHOTOGRAPHS.map((name) => [name, photographPath(name)] as const);

  it.each([...samples, ...museum])("is not lifted by itself: %s", async (_, path) => {
    const photo = await decodePhoto(await readFile(path));
    for (const linesPerInch of [100, 254]) {
      const [plain, off] = await Promise.all(
        [undefined, 0].map((lift) => tonesOf(photo, { widthMm: 40, linesPerInch, lift })),
      );
      expect(plain.strength).toBe(0);
      expect(plain.tones).toEqual(off.tones);
    }
  });

  it("is not lifted by itself: lamps in the night, black fur on grass, an even grey", async () => {
    const night = photoOf((u, v) => (Math.hypot(u - 0.3, v - 0.4) < 0.08 ? 1 : luminance(6 + 5 * v)));
    const fur = photoOf((u, v) =>
      luminance(isFigure(u, v) ? 9 + 7 * Math.sin(70 * u) : 52 + 8 * Math.sin(60 * v)),
    );
    const grey = photoOf(() => luminance(25));
    for (const photo of [night, fur, grey]) expect((await tonesOf(photo, piece)).strength).toBe(0);
  });

  it("does not change at full strength if it is even", async () => {
    for (const tone of [5, 25, 60]) {
      const { tones } = await tonesOf(
        photoOf(() => luminance(tone)),
        { ...piece, lift: 1 },
      );
      for (const value of tones) expect(Math.abs(value - tone)).toBeLessThan(0.02);
    }
  });
});
