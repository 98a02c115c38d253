import sharp, { type Sharp } from "sharp";
import type { MadeTestCard } from "../../src/index.js";
import type { BurnedBitmap, VirtualCamera, VirtualEngraving } from "../../tests/support/virtual-camera.js";
import * as edits from "./edits.js";

/** A picture of a card, and what may rightly come of it. */
export interface BadPicture {
  readonly name: string;
  readonly camera?: VirtualCamera;
  /** How the card is engraved, if not well. */
  readonly engraved?: Engraved;
  readonly edit?: edits.Edit;
  /** The recipe that is given beside the picture. */
  readonly recipe?: MadeTestCard["recipe"];
  /** Names of the refusals that would be right; a right curve is always right. */
  readonly refusals?: readonly string[];
  /** Nothing in the picture shows it: the report says that it may be so. */
  readonly unseen?: boolean;
  /** A picture from elsewhere. */
  readonly made?: () => Promise<Buffer>;
}

export interface Engraved extends Partial<VirtualEngraving> {
  readonly name: string;
  /** Another bitmap than the card's. */
  readonly bitmap?: () => Promise<BurnedBitmap>;
}

/** What is photographed where a case does not say more: a hand-held picture in the light of a window. */
export const plainCamera: VirtualCamera = {
  ...{ columns: 1600, rows: 1200, tiltDeg: 10, tiltTowardsDeg: 130, rollDeg: 4 },
  ...{ gradient: 1.4, vignetting: true, blurPx: 1, noise: 0.01, jpeg: 92, grain: 0.01 },
};

const code = "card-code-missing";
const frame = "card-frame-missing";
const uneven = "card-uneven-light";
const clipped = "card-clipped";
const unlike = "card-patches-unlike";
const blurred = "card-blurred";
const sharpened = "card-sharpened";
const byPlace = "card-tones-by-place";
const small = "card-too-few-pixels";
const two = "card-two-codes";
const screen = "card-not-engraved";

const skin = "#b98a72";
const leftOf = (at: number) => (x: number) => (at - x) / 0.002;

const byCamera: readonly BadPicture[] = [
  { name: "nothing wrong" },
  { name: "tilted by 30°", camera: { tiltDeg: 30, fill: 0.75 } },
  { name: "tilted by 50°", camera: { tiltDeg: 50, fill: 0.7 }, refusals: [frame, code, small, uneven] },
  { name: "barrel, 12 %", camera: { radial: -0.12 } },
  { name: "barrel, 25 %", camera: { radial: -0.25 }, refusals: [frame] },
  { name: "pincushion, 10 %", camera: { radial: 0.1, fill: 0.7 } },
  { name: "bent by 1 mm", camera: { bendMm: 1 }, refusals: [frame] },
  { name: "bent by 4 mm", camera: { bendMm: 4, tiltDeg: 25, tiltTowardsDeg: 90 }, refusals: [frame] },
  { name: "noise of night", camera: { noise: 0.12, exposure: 0.5 }, refusals: [uneven] },
  { name: "overexposed a little", camera: { exposure: 1.4 }, refusals: [clipped] },
  { name: "overexposed", camera: { exposure: 2.4 }, refusals: [clipped] },
  { name: "underexposed by 3 stops", camera: { exposure: 0.11 } },
  { name: "underexposed by 6 stops", camera: { exposure: 0.014 }, refusals: [clipped, uneven, code] },
  { name: "light of 3:1", camera: { gradient: 3 } },
  { name: "800 × 600 pixels", camera: { columns: 800, rows: 600 } },
  { name: "500 × 375 pixels", camera: { columns: 500, rows: 375 }, refusals: [small, code] },
  { name: "grain of 3 %", camera: { grain: 0.03 } },
  { name: "grain of 6 %", camera: { grain: 0.06 } },
  { name: "from behind", camera: { mirrored: true } },
];

const byEdit: readonly BadPicture[] = [
  { name: "cropped at the left", edit: edits.cropped(0.2, 0, 1, 1), refusals: [frame] },
  { name: "cropped at the right", edit: edits.cropped(0, 0, 0.86, 1), refusals: [frame] },
  { name: "cropped at the top", edit: edits.cropped(0, 0.16, 1, 1), refusals: [frame] },
  { name: "cropped at the bottom", edit: edits.cropped(0, 0, 1, 0.86), refusals: [frame] },
  { name: "corner cut", edit: edits.covered('<path d="M0 0H30L0 40z" fill="#444"/>'), refusals: [frame] },
  { name: "blurred, σ 3", edit: edits.blurred(3) },
  { name: "blurred, σ 6", edit: edits.blurred(6), refusals: [blurred, frame, code, uneven, unlike] },
  { name: "blurred, σ 12", edit: edits.blurred(12), refusals: [code, frame] },
  { name: "moved by 9 pixels", edit: edits.moved(9) },
  { name: "moved by 25 pixels", edit: edits.moved(25, true), refusals: [code, frame, unlike, uneven] },
  { name: "glare, small", edit: edits.glaring(0.5, [0.3, 0.35, 0.05]), refusals: [uneven, clipped] },
  { name: "glare, weak and wide", edit: edits.glaring(0.1, [0.65, 0.6, 0.15]), refusals: [uneven] },
  { name: "glare, wide", edit: edits.glaring(0.3, [0.6, 0.4, 0.2]), refusals: [uneven, clipped] },
  {
    name: "veil of light all over",
    edit: edits.changedLight((light) => 0.08 + 0.85 * light),
    unseen: true,
  },
  { name: "shadow, 20 %, a quarter", edit: edits.shadowed(0.2, leftOf(0.32)), refusals: [uneven] },
  { name: "shadow, 45 %, a half", edit: edits.shadowed(0.45, leftOf(0.5)), refusals: [uneven] },
  {
    name: "shadow, 60 %, a corner",
    edit: edits.shadowed(0.6, (x, y) => (0.55 - x - y) / 0.003),
    refusals: [uneven],
  },
  { name: "shadow, 10 %, a half", edit: edits.shadowed(0.1, leftOf(0.5)), refusals: [uneven] },
  {
    name: "shadow, 40 %, a stripe",
    edit: edits.shadowed(0.4, (x, y) => (0.06 - Math.abs(x - 0.7 + 0.2 * y)) / 0.005),
    refusals: [uneven],
  },
  {
    name: "finger at the edge",
    edit: edits.covered(`<path d="M62 100V76a5 8 0 0 1 10 0V100z" fill="${skin}"/>`),
    refusals: [frame],
  },
  {
    name: "finger over a tenth",
    edit: edits.covered(`<path d="M100 48H72a9 8 0 0 0 0 17H100z" fill="${skin}"/>`),
    refusals: [frame],
  },
  {
    name: "coin on the patches",
    edit: edits.covered('<ellipse cx="28" cy="40" rx="7" ry="9" fill="#9a8f80"/>'),
  },
  {
    name: "cable across",
    edit: edits.covered('<path d="M0 30C30 20 60 45 100 35" stroke="#222" fill="none" stroke-width="1.5"/>'),
    refusals: [frame],
  },
  { name: "sharpened a little", edit: edits.sharpened(0.7, 1) },
  { name: "sharpened, 3", edit: edits.sharpened(3, 1.5), refusals: [sharpened] },
  {
    name: "sharpened, wide halo",
    edit: edits.sharpened(2, 8),
    refusals: [sharpened, uneven, clipped, unlike],
  },
  { name: "JPEG quality 30", edit: edits.compressed(30) },
  { name: "JPEG quality 10", edit: edits.compressed(10), refusals: [uneven, frame, code] },
  {
    name: "moiré, a third without filter",
    edit: edits.smaller(667, "nearest"),
    refusals: [unlike, uneven, code, small],
  },
  { name: "tones by neighbourhood, weak", edit: edits.toneMapped(0.25, 60), refusals: [byPlace] },
  { name: "tones by neighbourhood", edit: edits.toneMapped(0.6, 100), refusals: [byPlace, uneven] },
  {
    name: "tones by wide neighbourhood",
    edit: edits.toneMapped(0.6, 400),
    refusals: [byPlace, uneven, "card-camera-curve"],
  },
  { name: "negative", edit: edits.negative, refusals: ["card-other-material", frame, clipped, uneven] },
  { name: "colour cast", edit: edits.tinted },
  { name: "turned by Exif", edit: edits.turnedByExif },
  { name: "CMYK", edit: edits.cmyk, refusals: ["card-for-print"] },
  { name: "PNG of 16 bits", edit: edits.sixteenBits },
  { name: "translucent", edit: edits.translucent },
];

/** Engraved other than meant. */
function byEngraving(made: MadeTestCard, others: Others): BadPicture[] {
  const { burnFile, recipe } = made;
  const pitch = { alongMm: recipe.pitchAlongMm, acrossMm: recipe.pitchAcrossMm };
  const changed =
    (change: (picture: Sharp) => Sharp, other: Partial<BurnedBitmap> = {}) =>
    async (): Promise<BurnedBitmap> => ({
      burnFile: await change(sharp(burnFile)).png().toBuffer(),
      ...{ pitch, twoWay: true, patches: recipe.patches },
      ...other,
    });
  const scaled = (factor: number): Partial<BurnedBitmap> => ({
    pitch: { alongMm: factor * pitch.alongMm, acrossMm: factor * pitch.acrossMm },
    patches: recipe.patches.map(({ leftMm, topMm, widthMm, heightMm, ...patch }) => ({
      ...{ ...patch, leftMm: factor * leftMm, topMm: factor * topMm },
      ...{ widthMm: factor * widthMm, heightMm: factor * heightMm },
    })),
  });
  /** A program made the bitmap fit lines of its own. */
  const resampled = (linesPerInch: number) => async (): Promise<BurnedBitmap> => {
    const factor = linesPerInch / recipe.linesPerInch;
    const [width, height] = [recipe.columns, recipe.rows].map((each) => Math.round(factor * each));
    const own = sharp(burnFile).resize({ width, height, fit: "fill", kernel: "nearest" });
    return {
      burnFile: await own.png().toBuffer(),
      pitch: { alongMm: recipe.widthMm / width, acrossMm: recipe.heightMm / height },
      ...{ twoWay: true, patches: recipe.patches },
    };
  };
  /** The patches of one card and the code of another. */
  const withCodeOf = (card: MadeTestCard) => async (): Promise<BurnedBitmap> => {
    const [from, to] = [codePixels(card), codePixels(made)];
    const code = sharp(card.burnFile)
      .extract(from)
      .resize(to.width, to.height, { fit: "fill", kernel: "nearest" });
    const input = await code.png().toBuffer();
    const pasted = sharp(burnFile).composite([{ input, left: to.left, top: to.top }]);
    return { burnFile: await pasted.png().toBuffer(), pitch, twoWay: true, patches: recipe.patches };
  };
  return [
    { name: "engraved to 60 %", engraved: { name: "60 %", stopsAfter: 0.6 }, refusals: [frame, code] },
    { name: "engraved to 96 %", engraved: { name: "96 %", stopsAfter: 0.96 }, refusals: [frame] },
    { name: "power 40 % too low", engraved: { name: "weak", doseFactor: 0.6 } },
    {
      name: "power far too low",
      engraved: { name: "very weak", doseFactor: 0.2 },
      refusals: ["card-too-faint", code],
    },
    { name: "power 60 % too high", engraved: { name: "strong", doseFactor: 1.6 } },
    { name: "power 3 times", engraved: { name: "very strong", doseFactor: 3 }, refusals: [unlike] },
    {
      name: "bitmap mirrored",
      engraved: {
        name: "mirrored",
        bitmap: changed((picture) => picture.flop(), {
          patches: recipe.patches.map((patch) => ({
            ...patch,
            leftMm: recipe.widthMm - patch.leftMm - patch.widthMm,
          })),
        }),
      },
    },
    {
      name: "bitmap inverted",
      engraved: { name: "inverted", bitmap: changed((picture) => picture.negate()) },
      refusals: ["card-other-material", frame, code],
    },
    {
      name: "bitmap at 600 lines per inch",
      engraved: { name: "resampled", bitmap: resampled(600) },
    },
    {
      name: "code of another order",
      engraved: { name: "other order", bitmap: withCodeOf(others.order) },
      refusals: [unlike],
    },
    {
      name: "code of a coarser card",
      engraved: { name: "coarser", bitmap: withCodeOf(others.coarser) },
      refusals: [unlike, frame],
    },
    {
      name: "code of a smaller card",
      engraved: { name: "smaller", bitmap: withCodeOf(others.smaller) },
      refusals: [unlike, frame],
    },
    { name: "another card's recipe given", recipe: others.order.recipe, refusals: ["card-not-the-recipe"] },
    {
      name: "scaled by 3 %",
      engraved: { name: "scaled", bitmap: changed((picture) => picture, scaled(1.03)) },
    },
  ];
}

const codePixels = ({ recipe: { codePlace, pitchAlongMm, pitchAcrossMm } }: MadeTestCard) => ({
  left: Math.round(codePlace.leftMm / pitchAlongMm),
  top: Math.round(codePlace.topMm / pitchAcrossMm),
  width: Math.round(codePlace.widthMm / pitchAlongMm),
  height: Math.round(codePlace.heightMm / pitchAcrossMm),
});

/** Cards beside the one that is photographed. */
export interface Others {
  /** The same in another order. */
  readonly order: MadeTestCard;
  readonly coarser: MadeTestCard;
  readonly smaller: MadeTestCard;
}

/** Pictures that show no card, or not the card alone. `plain` is the picture of which nothing is wrong. */
const elsewhere = (made: MadeTestCard, { plain, other }: { plain: Buffer; other: Buffer }): BadPicture[] => [
  { name: "grey noise", made: noise, refusals: [code] },
  {
    name: "something else",
    made: () => sharp("sample-images/harbour.jpg").jpeg().toBuffer(),
    refusals: [code],
  },
  { name: "two cards", made: () => edits.sideBySide(plain, other), refusals: [two] },
  { name: "one card twice", made: () => edits.sideBySide(plain, plain), refusals: [two] },
  {
    name: "part of another card",
    edit: edits.pastedFrom(other, [0, 0, 0.45, 1]),
    refusals: [frame, unlike, uneven],
  },
  { name: "the bitmap", made: () => onScreen(made.burnFile), refusals: [clipped, screen, unlike] },
  { name: "the preview", made: () => onScreen(made.previewFile), refusals: [screen, unlike, frame] },
];

const noise = (): Promise<Buffer> => {
  const kind = { type: "gaussian", mean: 128, sigma: 40 } as const;
  return sharp({ create: { width: 1600, height: 1200, channels: 3, background: "#888", noise: kind } })
    .jpeg()
    .toBuffer();
};

/** A picture of a screen that shows a file with a border. */
const onScreen = (file: Uint8Array): Promise<Buffer> =>
  sharp(file)
    .resize({ width: 1600 })
    .extend({ top: 80, bottom: 80, left: 80, right: 80, background: "#fff" })
    .flatten({ background: "#fff" })
    .png()
    .toBuffer();

export const badPictures = (
  made: MadeTestCard,
  others: Others,
  pictures: { readonly plain: Buffer; readonly other: Buffer },
): BadPicture[] => [...byCamera, ...byEdit, ...elsewhere(made, pictures), ...byEngraving(made, others)];
