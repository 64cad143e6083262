/**
 * The words of a label in the four languages, beside the names of ingredients, which are the same in all. Our own
 * wording; whoever sells in a country reads them once with somebody who lives there.
 */
import type { LabelWords } from "#core/make/label-words.ts";
import german from "#core/words/de.json";
import english from "#core/words/en.json";
import spanish from "#core/words/es.json";
import french from "#core/words/fr.json";

export const LABEL_WORDS = {
  en: {
    language: "en",
    languageName: "English",
    purpose: "Whipped body butter",
    beforeEndOf: "Best used before the end of",
    batch: "Batch",
    origin: "Made in {country}",
    precautions: {
      always:
        "For the skin only. Use dry hands, keep water out. Store closed, below 25 °C. Makes floors and tubs slippery. " +
        "Stop if skin itches or reddens, or if smell, colour or texture changes.",
      scented: "Contains essential oils: not for children under three.",
      contains: "Contains: {families}.",
    },
    families: english.families,
  },
  fr: {
    language: "fr",
    languageName: "French",
    purpose: "Beurre corporel fouetté",
    beforeEndOf: "À utiliser de préférence avant fin",
    batch: "Lot",
    origin: "Fabriqué dans ce pays : {country}",
    precautions: {
      always:
        "Pour la peau seulement. Mains sèches, pas d’eau dans le pot. Conserver fermé, au-dessous de 25 °C. Rend sols " +
        "et baignoires glissants. Arrêter si la peau démange ou rougit, ou si l’odeur, la couleur ou la texture change.",
      scented: "Contient des huiles essentielles : pas pour les enfants de moins de trois ans.",
      contains: "Contient : {families}.",
    },
    families: french.families,
  },
  de: {
    language: "de",
    languageName: "German",
    purpose: "Geschlagene Körperbutter",
    beforeEndOf: "Mindestens haltbar bis Ende",
    batch: "Charge",
    origin: "Herkunftsland: {country}",
    precautions: {
      always:
        "Nur für die Haut. Mit trockenen Händen entnehmen, kein Wasser hineinbringen. Geschlossen unter 25 °C lagern. " +
        "Macht Böden und Wannen rutschig. Nicht weiter verwenden, wenn die Haut juckt oder sich rötet oder wenn sich " +
        "Geruch, Farbe oder Beschaffenheit ändert.",
      scented: "Enthält ätherische Öle: nicht für Kinder unter drei Jahren.",
      contains: "Enthält: {families}.",
    },
    families: german.families,
  },
  es: {
    language: "es",
    languageName: "Spanish",
    purpose: "Mantequilla corporal batida",
    beforeEndOf: "Úsese preferentemente antes de finales de",
    batch: "Lote",
    origin: "País de origen: {country}",
    precautions: {
      always:
        "Solo para la piel. Con las manos secas y sin agua dentro. Guardar cerrada, por debajo de 25 °C. Deja suelos y " +
        "bañeras resbaladizos. Dejar de usar si la piel pica o enrojece, o si cambia el olor, el color o la textura.",
      scented: "Contiene aceites esenciales: no para menores de tres años.",
      contains: "Contiene: {families}.",
    },
    families: spanish.families,
  },
} as const satisfies Record<string, LabelWords>;

export type LabelLanguage = keyof typeof LABEL_WORDS;

export const LABEL_LANGUAGES = Object.keys(LABEL_WORDS) as LabelLanguage[];
