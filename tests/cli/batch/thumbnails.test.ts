import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { afterAll, expect, it } from "vitest";
import { preparedEntry } from "../../../src/batch/entry.js";
import { writePages } from "../../../src/cli/batch/pages.js";
import { figures } from "../../batch/desk/made-desk.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

it("small pictures are files of their own, each content once, and go with the last upload that has them", async () => {
  const [out, work] = [folder.in("out"), folder.in("work")];
  mkdirSync(out);
  const inBase64 = (text: string): string => Buffer.from(text).toString("base64");
  const verdict = (file: string, photo: string, thumbnail: string) => ({
    ...{ entry: preparedEntry(file, { findings: [], figures }, []), kept: false },
    ...{ photo: inBase64(photo), thumbnail: inBase64(thumbnail) },
  });
  const [boat, again, quay] = [
    verdict("boat.jpg", "a boat", "an engraved boat"),
    verdict("boat (1).jpg", "a boat", "a smaller engraved boat"),
    verdict("quay.jpg", "a quay", "an engraved quay"),
  ];
  const contents = () =>
    readdirSync(`${out}/thumbnails`)
      .map((name) => readFileSync(`${out}/thumbnails/${name}`, "utf8"))
      .sort();
  await writePages({ verdicts: [boat, again, quay] }, out, work);
  expect(contents()).toEqual(
    ["a boat", "a quay", "a smaller engraved boat", "an engraved boat", "an engraved quay"].sort(),
  );
  const page = readFileSync(`${out}/index.html`, "utf8");
  for (const name of readdirSync(`${out}/thumbnails`)) expect(page).toContain(`thumbnails/${name}`);
  writeFileSync(`${out}/thumbnails/mine.webp`, "mine");
  // In the middle of a pass, the others are only not listed yet.
  await writePages({ verdicts: [boat], remaining: 2 }, out, work);
  expect(contents()).toHaveLength(6);
  await writePages({ verdicts: [boat] }, out, work);
  expect(contents()).toEqual(["a boat", "an engraved boat", "mine"]);
  expect(existsSync(`${work}/pages/batch.json`)).toBe(false);
});
