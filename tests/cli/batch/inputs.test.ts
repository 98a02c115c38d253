import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { afterAll, expect, it } from "vitest";
import { findUploads } from "../../../src/cli/batch/inputs.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

it("takes neither outputs for uploads nor the lists beside them, by whatever way the folder is reached", async () => {
  mkdirSync(folder.in("uploads", "engraved"), { recursive: true });
  for (const name of ["boat.jpg", "jobs.csv", "engraved/boat.burn.png"])
    writeFileSync(folder.in("uploads", name), "");
  symlinkSync("uploads", folder.in("inbox"));
  for (const way of ["uploads", "inbox"]) {
    for (const other of ["uploads", "inbox"]) {
      const [out, sheet] = [folder.in(other, "engraved"), folder.in(other, "jobs.csv")];
      const found = await findUploads([folder.in(way)], true, out, [sheet]);
      expect(
        found.map(({ id }) => id),
        `${way}, ${other}`,
      ).toEqual(["boat.jpg"]);
    }
  }
});

it("takes a file once, however often it is named, and tells files of the same name apart", async () => {
  mkdirSync(folder.in("a"));
  mkdirSync(folder.in("b"));
  for (const name of ["a/boat.jpg", "b/boat.jpg"]) writeFileSync(folder.in(name), "");
  const inputs = [folder.in("a"), folder.in("a", "boat.jpg"), folder.in("b")];
  const found = await findUploads(inputs, false, folder.in("out"), []);
  expect(found.map(({ path }) => path)).toEqual([folder.in("a", "boat.jpg"), folder.in("b", "boat.jpg")]);
  expect(new Set(found.map(({ id }) => id)).size).toBe(2);
});

it("refuses an output folder that holds the uploads", async () => {
  mkdirSync(folder.in("same", "below"), { recursive: true });
  for (const [input, out] of [
    ["same", "same"],
    ["same/below", "same"],
  ]) {
    await expect(findUploads([folder.in(input)], true, folder.in(out), [])).rejects.toMatchObject({
      code: "OPTION_CONFLICT",
      option: "out",
    });
  }
  // The other way round is usual.
  await expect(findUploads([folder.in("same")], true, folder.in("same", "below"), [])).resolves.toEqual([]);
});
