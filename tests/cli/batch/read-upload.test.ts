import { execFileSync } from "node:child_process";
import { constants, mkdirSync, openSync, rmSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { readUpload } from "../../../src/cli/batch/read-upload.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

/** What happens to a file between the look at it and its opening. */
const meanwhile = vi.hoisted(() => ({ happens: (): void => {} }));
vi.mock("node:fs/promises", async (original) => {
  const real = await original<typeof import("node:fs/promises")>();
  const lstat = async (path: string) => {
    const stats = await real.lstat(path);
    meanwhile.happens();
    return stats;
  };
  return { ...real, lstat };
});
afterEach(() => {
  meanwhile.happens = () => {};
});

describe("readUpload", () => {
  it("reads a plain file", async () => {
    writeFileSync(folder.in("quay.jpg"), "quay");
    expect(Buffer.from(await readUpload({ id: "quay.jpg", path: folder.in("quay.jpg") }, 4)).toString()).toBe(
      "quay",
    );
    await expect(readUpload({ id: "quay.jpg", path: folder.in("quay.jpg") }, 3)).rejects.toMatchObject({
      code: "INPUT_TOO_LARGE",
    });
  });

  it("does not take a file that changes while it is read", async () => {
    const path = folder.in("growing.jpg");
    writeFileSync(path, Buffer.alloc(60e6));
    let size = 60e6;
    const timer = setInterval(() => truncateSync(path, ++size), 1);
    await expect(readUpload({ id: "growing.jpg", path }, 1e9)).rejects.toMatchObject({
      code: "INPUT_CHANGING",
    });
    clearInterval(timer);
    expect((await readUpload({ id: "growing.jpg", path }, 1e9)).length).toBe(size);
  });

  it("waits for nothing and follows nothing", async () => {
    symlinkSync("quay.jpg", folder.in("link.jpg"));
    execFileSync("mkfifo", [folder.in("pipe.jpg")]);
    const codeOf = (name: string) =>
      readUpload({ id: name, path: folder.in(name) }, 10).then(
        () => "read",
        ({ code }) => code,
      );
    expect(await codeOf("link.jpg")).toBe("INPUT_LINK");
    expect(await codeOf("pipe.jpg")).toBe("INPUT_NOT_A_FILE");
    expect(await codeOf("")).toBe("INPUT_NOT_A_FILE");
    expect(await codeOf("none.jpg")).toBe("INPUT_MISSING");
  });

  it("follows no linked folder that a row of a sheet names", async () => {
    mkdirSync(folder.in("sheet", "plain"), { recursive: true });
    mkdirSync(folder.in("private"));
    writeFileSync(folder.in("private", "a.jpg"), "private");
    writeFileSync(folder.in("sheet", "plain", "a.jpg"), "boat");
    symlinkSync("../private", folder.in("sheet", "away"));
    const read = (name: string, below = folder.in("sheet")) =>
      readUpload({ id: `${name} [small]`, path: `${below}/${name}`, below }, 10);
    await expect(read("away/a.jpg")).rejects.toMatchObject({ code: "INPUT_LINK" });
    expect(Buffer.from(await read("plain/a.jpg")).toString()).toBe("boat");
    // The folder that the user gave may be behind a link.
    symlinkSync("sheet", folder.in("to-sheet"));
    expect(Buffer.from(await read("plain/a.jpg", folder.in("to-sheet"))).toString()).toBe("boat");
  });

  it("does not follow a link that has taken a file's place since it was looked at", async () => {
    const path = folder.in("swapped.jpg");
    writeFileSync(folder.in("private.txt"), "private");
    writeFileSync(path, "quay");
    meanwhile.happens = () => {
      rmSync(path);
      symlinkSync("private.txt", path);
      meanwhile.happens = () => {};
    };
    await expect(readUpload({ id: "swapped.jpg", path }, 10)).rejects.toMatchObject({ code: "INPUT_LINK" });
  });

  it("does not wait for a pipe that has taken a file's place since it was looked at", async () => {
    const path = folder.in("piped.jpg");
    writeFileSync(path, "quay");
    meanwhile.happens = () => {
      rmSync(path);
      execFileSync("mkfifo", [path]);
      meanwhile.happens = () => {};
    };
    // Opening the other end releases a waiting reader, so that the test fails and does not hang.
    let waited = false;
    const rescue = setTimeout(() => {
      waited = true;
      openSync(path, constants.O_RDWR);
    }, 2000);
    await expect(readUpload({ id: "piped.jpg", path }, 10)).rejects.toMatchObject({
      code: "INPUT_NOT_A_FILE",
    });
    clearTimeout(rescue);
    expect(waited).toBe(false);
  });
});
