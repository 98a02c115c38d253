import { execFileSync } from "node:child_process";
import { symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { readUpload } from "../../../src/cli/batch/read-upload.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

describe("readUpload", () => {
  it("reads a plain file", async () => {
    writeFileSync(folder.in("quay.jpg"), "quay");
    expect(Buffer.from(await readUpload(folder.in("quay.jpg"), "quay.jpg", 4)).toString()).toBe("quay");
    await expect(readUpload(folder.in("quay.jpg"), "quay.jpg", 3)).rejects.toMatchObject({
      code: "INPUT_TOO_LARGE",
    });
  });

  it("does not take a file that changes while it is read", async () => {
    const path = folder.in("growing.jpg");
    writeFileSync(path, Buffer.alloc(60e6));
    let size = 60e6;
    const timer = setInterval(() => truncateSync(path, ++size), 1);
    await expect(readUpload(path, "growing.jpg", 1e9)).rejects.toMatchObject({ code: "INPUT_CHANGING" });
    clearInterval(timer);
    expect((await readUpload(path, "growing.jpg", 1e9)).length).toBe(size);
  });

  it("waits for nothing and follows nothing", async () => {
    symlinkSync("quay.jpg", folder.in("link.jpg"));
    execFileSync("mkfifo", [folder.in("pipe.jpg")]);
    const codeOf = (name: string) =>
      readUpload(folder.in(name), name, 10).then(
        () => "read",
        ({ code }) => code,
      );
    expect(await codeOf("link.jpg")).toBe("INPUT_LINK");
    expect(await codeOf("pipe.jpg")).toBe("INPUT_NOT_A_FILE");
    expect(await codeOf("")).toBe("INPUT_NOT_A_FILE");
    expect(await codeOf("none.jpg")).toBe("INPUT_MISSING");
  });
});
