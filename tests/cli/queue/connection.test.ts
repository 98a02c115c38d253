import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseQueueAddress } from "../../../src/cli/queue/address.js";
import { connect } from "../../../src/cli/queue/connection.js";
import type { QueueLogin } from "../../../src/cli/queue/login.js";
import { loadQueueEngine } from "../../../src/cli/queue/packages.js";
import { freePort, startRedis, type TestServer } from "../../support/redis-server.js";
import { hasTool } from "../../support/tool.js";
import { temporaryFolder } from "../command.js";

const hasAll = hasTool("redis-server") && hasTool("openssl", ["version"]);

describe.skipIf(!hasAll)("a connection to a server with a password and a certificate of its own", () => {
  const folder = temporaryFolder();
  let server: TestServer;
  let encrypted = "";
  beforeAll(async () => {
    const subject = ["-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost"];
    const files = ["-keyout", folder.in("key.pem"), "-out", folder.in("server.pem")];
    const elliptic = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2"];
    spawnSync("openssl", ["req", "-x509", ...elliptic, ...subject, ...files]);
    const port = await freePort();
    server = await startRedis([
      "requirepass tide",
      ...[`tls-port ${port}`, "tls-auth-clients no"],
      ...[`tls-cert-file ${folder.in("server.pem")}`, `tls-key-file ${folder.in("key.pem")}`],
      ...["maxmemory 50mb", "maxmemory-policy allkeys-lru"],
    ]);
    encrypted = `rediss://localhost:${port}`;
  });
  afterAll(async () => {
    await server?.remove();
    folder.remove();
  });

  async function told(url: string, login: QueueLogin): Promise<string> {
    const notes: string[] = [];
    try {
      const engine = await loadQueueEngine();
      const { redis, close } = await connect(engine, parseQueueAddress(url), login, (words) =>
        notes.push(words),
      );
      notes.push(await redis.ping());
      close();
      return notes.join(" ");
    } catch (error) {
      return String(error);
    }
  }

  it("is made with the password, and warns that the server may drop jobs", async () => {
    expect(await told(server.url, { password: "tide" })).toMatch(/drops keys .* noeviction .* PONG$/);
  });

  it("is refused with another password or none, without repeating it", async () => {
    const wrong = await told(server.url, { password: "ebb4711" });
    expect(wrong).toMatch(/cannot be used \(.*WRONGPASS/);
    expect(wrong).not.toContain("ebb4711");
    expect(await told(server.url, {})).toMatch(/cannot be used \(it wants a password, and none was given\)/);
  });

  it("is encrypted, and only to the server whose certificate is known", async () => {
    const authority = readFileSync(folder.in("server.pem"), "utf8");
    expect(await told(encrypted, { password: "tide", authority })).toMatch(/PONG$/);
    expect(await told(encrypted, { password: "tide" })).toMatch(/SELF_SIGNED|self-signed/);
    expect(await told(encrypted.replace("localhost", "127.0.0.1"), { password: "tide", authority })).toMatch(
      /ALTNAME|altnames/,
    );
  });
});
