/*
 * A ledger is not trusted: one that was damaged, edited or carried over from elsewhere must not cost the user a file, nor
 * pass off another file for the piece.
 */
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { photographPath } from "../../pipeline/photograph.js";
import { temporaryFolder } from "../command.js";
import { type Ended, entriesIn, runBatch, treeOf } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const uploads = folder.in("uploads");
const made = folder.in("made", "out");
const quick = ["--method", "floyd-steinberg", "--bitmap-only", "--workers", "2"];
const asBefore = ["--width", "4mm", ...quick];

/** Uploads whose records are altered: where each leads to. Beside the output folder, every one has a file of the user's. */
const claims: Readonly<Record<string, (kept: string) => string>> = {
  climbs: (kept) => `../${kept}`,
  absolute: (kept) => folder.in("{place}", kept),
  descends: (kept) => `absolute/../../${kept}`,
  link: (kept) => `away/${kept}`,
  others: () => buoyOutput,
  folder: () => "buoy",
  zero: () => "gone\0.png",
};
const stems = Object.keys(claims);
const buoyOutput = "buoy/buoy.burn.png";
const outputsOf = (stem: string): string[] =>
  ["burn.png", "report.json"].map((end) => `${stem}/${stem}.${end}`);

beforeAll(async () => {
  mkdirSync(uploads);
  const canyon = sharp(photographPath("black-canyon")).resize(160);
  await canyon.clone().negate().png().toFile(`${uploads}/buoy.png`);
  for (const stem of [...stems, "listed"]) await canyon.clone().png().toFile(`${uploads}/${stem}.png`);
  expect(await runBatch([uploads, ...asBefore, "--out", made])).toMatchObject({ status: 0 });
});

const sha256 = (content: Uint8Array | string): string => createHash("sha256").update(content).digest("hex");
const recordOf = (out: string, stem: string): string =>
  `${out}/.spotpitch/ledger/${sha256(`${stem}.png`)}.json`;

/** Add another file with its hash to an upload's record. */
function claim(out: string, stem: string, path: string, file: string): void {
  const record = JSON.parse(readFileSync(recordOf(out, stem), "utf8"));
  record.outputs = [{ path, sha256: sha256(readFileSync(file)) }];
  record.entry.outputs = [path];
  writeFileSync(recordOf(out, stem), JSON.stringify(record));
}

/** The output folder of a finished run, the user's files beside it, and records that claim those. */
function alteredRun(place: string): string {
  const out = folder.in(place, "out");
  cpSync(made, out, { recursive: true });
  symlinkSync("..", `${out}/away`);
  for (const stem of stems) {
    const kept = folder.in(place, `${stem}.txt`);
    writeFileSync(kept, stem);
    const path = claims[stem](`${stem}.txt`).replace("{place}", place);
    claim(out, stem, path, stem === "others" ? `${out}/${buoyOutput}` : kept);
  }
  return out;
}

function runWithWidth(width: string, place: string, out: string): Promise<Ended> {
  const sheet = folder.in(place, "jobs.csv");
  writeFileSync(sheet, ["file,width", ...stems.map((stem) => `${stem}.png,${width}`)].join("\n"));
  const config = folder.in(place, "shop.json");
  writeFileSync(config, JSON.stringify({ width: "4mm" }));
  const others = ["--sheet", sheet, "--unlisted", "prepare"];
  return runBatch([uploads, ...quick, "--config", config, ...others, "--out", out]);
}

function runWithoutPictures(place: string, out: string): Promise<Ended> {
  const others = folder.in(place, "uploads");
  cpSync(uploads, others, { recursive: true });
  for (const stem of stems) writeFileSync(`${others}/${stem}.png`, "Dear harbour workshop");
  return runBatch([others, ...asBefore, "--out", out]);
}

describe.each([
  ["other-options", 0, (place: string, out: string) => runWithWidth("5mm", place, out)],
  ["impossible-rows", 4, (place: string, out: string) => runWithWidth("sixty", place, out)],
  ["no-pictures", 4, runWithoutPictures],
])("a run that gives up what records list: %s", (place, status, run) => {
  const out = folder.in(place, "out");
  let before: number;
  let ended: Ended;
  beforeAll(async () => {
    alteredRun(place);
    before = statSync(`${out}/${buoyOutput}`).ino;
    ended = await run(place, out);
  });

  it("is not ended by a record", () => {
    expect(ended).toMatchObject({ status, stderr: "" });
  });

  it.each(stems.filter((stem) => stem !== "others"))(
    "removes no file outside the output folder: %s",
    (stem) => {
      expect(existsSync(folder.in(place, `${stem}.txt`))).toBe(true);
    },
  );

  it("removes no file of another upload, not even to make it anew", () => {
    expect(readFileSync(`${out}/${buoyOutput}`)).toEqual(readFileSync(`${made}/${buoyOutput}`));
    expect(statSync(`${out}/${buoyOutput}`).ino).toBe(before);
  });

  it("knows the upload whose record nobody altered", () => {
    expect(entriesIn(out).get("buoy.png")).toEqual(entriesIn(made).get("buoy.png"));
  });
});

describe("the same run again", () => {
  const out = folder.in("again", "out");
  beforeAll(async () => {
    alteredRun("again");
    for (const stem of stems) rmSync(`${out}/${stem}`, { recursive: true });
    // A link: only its name is in the folder, and its content is elsewhere.
    const [linked] = outputsOf("listed");
    cpSync(`${out}/${linked}`, folder.in("again", "listed.png"));
    rmSync(`${out}/${linked}`);
    symlinkSync(folder.in("again", "listed.png"), `${out}/${linked}`);
    await runBatch([uploads, ...asBefore, "--out", out]);
  });

  it.each([...stems, "listed"])("takes no other file for the piece, and makes it anew: %s", (stem) => {
    expect(entriesIn(out).get(`${stem}.png`)).toEqual(entriesIn(made).get(`${stem}.png`));
    for (const path of outputsOf(stem)) {
      expect(lstatSync(`${out}/${path}`).isFile(), path).toBe(true);
      expect(readFileSync(`${out}/${path}`)).toEqual(readFileSync(`${made}/${path}`));
    }
  });

  it("leaves the files that were claimed as they are", () => {
    for (const stem of stems) expect(readFileSync(folder.in("again", `${stem}.txt`), "utf8")).toBe(stem);
    expect(readFileSync(`${out}/${buoyOutput}`)).toEqual(readFileSync(`${made}/${buoyOutput}`));
  });
});

describe("a record", () => {
  it("in another upload's place does not count there, and puts no path into the lists that is no file of its own", async () => {
    const out = alteredRun("misplaced");
    cpSync(recordOf(out, "buoy"), recordOf(out, "climbs"));
    const record = JSON.parse(readFileSync(recordOf(out, "listed"), "utf8"));
    record.entry.outputs = ["../listed.txt"];
    writeFileSync(recordOf(out, "listed"), JSON.stringify(record));
    const two = ["climbs", "listed"].map((stem) => `${uploads}/${stem}.png`);
    await runBatch([...two, ...asBefore, "--out", out]);
    expect(existsSync(`${out}/${buoyOutput}`)).toBe(true);
    expect(entriesIn(out).get("climbs.png")?.outputs).toEqual(outputsOf("climbs"));
    expect(entriesIn(out).get("listed.png")?.outputs).toEqual(outputsOf("listed"));
    expect(readFileSync(`${out}/index.html`, "utf8")).not.toContain("listed.txt");
  });
});

describe("uploads that share a name, one in each run", () => {
  const flat = ["--names", "{stem}"];
  const apart = ["--names", "{ext}-{stem}"];
  const run = async (out: string, file: string, ...names: readonly string[]): Promise<void> => {
    const { status } = await runBatch([file, ...asBefore, ...names, "--out", out]);
    expect(status).toBe(0);
  };
  const filesIn = (out: string): string[] =>
    Object.keys(treeOf(out)).filter((name) => /\.(burn|report)\./.test(name));

  it("keep their files when the upload that had the name before gets another one", async () => {
    const [out, pictures] = [folder.in("turns"), folder.in("boats")];
    mkdirSync(pictures);
    cpSync(`${uploads}/listed.png`, `${pictures}/boat.png`);
    await sharp(`${uploads}/buoy.png`).jpeg().toFile(`${pictures}/boat.jpg`);
    await run(out, `${pictures}/boat.png`, ...flat);
    await run(out, `${pictures}/boat.jpg`, ...flat);
    const ofJpg = ["boat.burn.png", "boat.report.json"].map((name) => readFileSync(`${out}/${name}`));
    await run(out, `${pictures}/boat.png`, ...apart);
    expect(filesIn(out)).toEqual(
      ["boat", "png-boat"].flatMap((stem) => [`${stem}.burn.png`, `${stem}.report.json`]),
    );
    expect(["boat.burn.png", "boat.report.json"].map((name) => readFileSync(`${out}/${name}`))).toEqual(
      ofJpg,
    );
    // It gives up its own files all the same.
    await run(out, `${pictures}/boat.jpg`, ...apart);
    expect(filesIn(out)).toEqual(
      ["jpg-boat", "png-boat"].flatMap((stem) => [`${stem}.burn.png`, `${stem}.report.json`]),
    );
  });

  it("keep them although the content is the same", async () => {
    const [out, pictures] = [folder.in("twins-out"), folder.in("twins")];
    for (const pier of ["east", "west"]) {
      mkdirSync(`${pictures}/${pier}`, { recursive: true });
      cpSync(`${uploads}/buoy.png`, `${pictures}/${pier}/boat.png`);
    }
    const only = async (pier: string, ...names: readonly string[]): Promise<void> => {
      rmSync(folder.in("pier"), { recursive: true, force: true });
      cpSync(`${pictures}/${pier}`, folder.in("pier", pier), { recursive: true });
      await run(out, folder.in("pier"), "--recursive", ...names);
    };
    await only("east", ...flat);
    await only("west", ...flat);
    await only("east", "--names", "{folder}/{stem}");
    expect(filesIn(out)).toEqual(
      // The upload of the west is gone, so its files move aside.
      ["east/boat", "set-aside/2/boat"].flatMap((stem) => [`${stem}.burn.png`, `${stem}.report.json`]),
    );
  });
});
