/** Ink and paper of our pictures, by day and, where the viewer's system is dark, by night. */
export const PICTURE_STYLE = `
svg{--paper:#fbfaf6;--sky:#e9eff0;--ink:#1f2c33;--faint:#5d6b72;--rule:#cbd4d5;--land:#5c7066;--edge:#33443c;--sun:#c26a10;--veil:#8a6d45;--moon:#7b86a3;--mark:#9a2f1c;--onland:#fdfcf9}
@media (prefers-color-scheme:dark){svg{--paper:#11171a;--sky:#1a2429;--ink:#e7ebe8;--faint:#9fadb1;--rule:#34424a;--land:#3f5149;--edge:#a9bfb3;--sun:#f2ab4b;--veil:#b59a70;--moon:#b9c3de;--mark:#ff9a7d;--onland:#dfe7e2}}
text{font-family:system-ui,"Segoe UI",Roboto,"Noto Sans",sans-serif;fill:var(--ink);font-variant-numeric:tabular-nums}
.paper{fill:var(--paper)}.sky{fill:var(--sky)}.rule{stroke:var(--rule);fill:none}.faint{fill:var(--faint)}
.land{fill:var(--land)}.edge{fill:none;stroke:var(--edge);stroke-width:1.5;stroke-linejoin:round}
.onland{fill:var(--onland)}.strong{font-weight:600}
`.replaceAll("\n", "");
