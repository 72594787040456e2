import react from "@vitejs/plugin-react";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const server = process.env["FILMWRIGHT_SERVER"] ?? "http://127.0.0.1:8750";

export default defineConfig({
  plugins: [react()],
  resolve: { alias: { "@": fileURLToPath(new URL("./src", import.meta.url)) } },
  build: { target: "es2022", assetsInlineLimit: 0, chunkSizeWarningLimit: 1000 },
  // By number: a bare machine may not know the name localhost.
  server: {
    host: "127.0.0.1",
    proxy: {
      // The server answers its own pages only.
      "/api": { target: server, changeOrigin: true, headers: { Origin: server } },
    },
  },
  test: { include: ["src/**/*.test.{ts,tsx}"], api: { host: "127.0.0.1" } },
});
