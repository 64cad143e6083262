/**
 * What is read from outside, spoiled where it hurts: blends for the command line, tables, certificates, codes of blends
 * and signed quotes. Each is read, or refused in words; nothing throws anything else, and nothing altered passes.
 */
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Shop } from "#service/ports.ts";
import { judgeInput } from "#service/commands/judge.ts";
