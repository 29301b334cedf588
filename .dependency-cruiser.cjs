/** One direction of imports: apps -> sdk -> (generated); apps/api -> terrain, operations -> core; sdk/offline -> operations. */
module.exports = {
  forbidden: [
    {
      name: "no-circular",
      comment: "types may refer to each other; generated code is as it comes",
      severity: "error",
      from: { pathNot: "/generated/" },
      to: { circular: true, viaOnly: { dependencyTypesNot: ["type-only"] } },
    },
    {
      name: "core-imports-nothing-of-ours",
      severity: "error",
      from: { path: "^packages/core/" },
      to: { path: "^(packages/(terrain|operations|sdk)|apps)/" },
    },
    {
      name: "core-is-pure",
      comment: "core does no input or output: no Node built-ins",
      severity: "error",
      from: { path: "^packages/core/src" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "terrain-imports-core-only",
      severity: "error",
      from: { path: "^packages/terrain/" },
      to: { path: "^(packages/(operations|sdk)|apps)/" },
    },
    {
      name: "operations-import-core-only",
      severity: "error",
      from: { path: "^packages/operations/" },
      to: { path: "^(packages/(terrain|sdk)|apps)/" },
    },
    {
      name: "operations-are-pure",
      comment: "what they need of the world is handed in as dependencies: no Node built-ins",
      severity: "error",
      from: { path: "^packages/operations/src" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "sdk-answers-only-offline",
      comment: "only the offline entry answers by itself; the rest of the SDK speaks HTTP",
      severity: "error",
      from: { path: "^packages/sdk/src", pathNot: "^packages/sdk/src/offline" },
      to: { path: "^(packages/(core|terrain|operations)|apps)/" },
    },
    {
      name: "sdk-offline-imports-no-terrain-or-app",
      severity: "error",
      from: { path: "^packages/sdk/src/offline" },
      to: { path: "^(packages/terrain|apps)/" },
    },
    {
      name: "other-apps-use-the-sdk",
      severity: "error",
      from: { path: "^apps/(?!api/)" },
      to: { path: "^(packages/(core|terrain|operations)|apps/api)/" },
    },
    {
      name: "api-does-not-call-itself-through-the-sdk",
      severity: "error",
      from: { path: "^apps/api/src" },
      to: { path: "^packages/sdk/" },
    },
    {
      name: "subjects-keep-apart",
      comment:
        "a subject folder may import the shared ground, sky, almanac and exposure, and types of any; only outing composes the rest, and entries list it",
      severity: "error",
      from: { path: "^packages/core/src/([^/]+)/", pathNot: "^packages/core/src/outing/" },
      to: {
        path: "^packages/core/src/[^/]+/",
        pathNot: "^packages/core/src/($1|sky|almanac|exposure)/",
        dependencyTypesNot: ["type-only"],
      },
    },
    {
      name: "sky-does-not-know-the-almanac",
      comment: "the almanac looks for instants along the sky's tracks, not the other way round",
      severity: "error",
      from: { path: "^packages/core/src/sky/" },
      to: { path: "^packages/core/src/almanac/" },
    },
    {
      name: "shared-ground-stays-at-the-bottom",
      severity: "error",
      from: { path: "^packages/core/src/[^/]+\\.ts$", pathNot: "^packages/core/src/index\\.ts$" },
      to: { path: "^packages/core/src/[^/]+/" },
    },
    {
      name: "api-folders-import-one-way",
      comment: "no two folders of the service import each other, not even their types",
      severity: "error",
      scope: "folder",
      from: { path: "^apps/api/src/[^/]+$" },
      to: { circular: true },
    },
    {
      name: "schemas-do-not-import-routes",
      severity: "error",
      from: { path: "^apps/api/src/operations/.*\\.schema\\.ts$" },
      to: { path: "^apps/api/src/operations/", pathNot: "(\\.schema|/shared/[^/]+)\\.ts$" },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    exclude: { path: "(^|/)dist/" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["fieldstop-source", "import", "require", "node", "default", "types"],
    },
  },
};
