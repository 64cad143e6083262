/**
 * Days as ISO text, such as "2026-11-25".
 */
import { momentFormat } from "./documents/formats.ts";

const MS_PER_DAY = 86_400_000;

/** In English, as the maker's side speaks. */
export const MONTHS = [
  ...["January", "February", "March", "April", "May", "June"],
  ...["July", "August", "September", "October", "November", "December"],
];

/** The day it is at a moment [s since 1970] in a time zone. */
export function dayAt(timeZone: string, seconds: number): string {
  // The Swedish locale writes dates the ISO way.
  return momentFormat("sv-SE", { timeZone }).format(seconds * 1000);
}

export function daysAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * MS_PER_DAY).toISOString().slice(0, 10);
}

/** Whole days from one day to another; negative when it is past. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / MS_PER_DAY);
}
