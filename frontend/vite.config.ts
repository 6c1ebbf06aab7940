import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vitest/config";

// What is built is served by `fastness serve`; nothing of it is fetched from elsewhere.
export default defineConfig({
  plugins: [svelte()],
  resolve: process.env["VITEST"] ? { conditions: ["browser"] } : {},
  build: {
    outDir: "../src/fastness/web/static",
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { proxy: { "/api": { target: "http://127.0.0.1:8620", changeOrigin: true } } },
  test: { environment: "jsdom", include: ["tests/**/*.test.ts"] },
});
