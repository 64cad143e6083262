/**
 * Every source of a figure, once. A figure names its key; a test fails when a key is unknown or no
 * figure uses it.
 *
 * Trust says how the figure reached us, not how good the laboratory was.
 */
export type Trust =
  /** We read the words of the publication itself, in full or in its abstract. */
  | "published text read"
  /** We read the figures in a copy, a compilation or a work that quotes the publication. */
  | "published, copy read"
  /** Sellers, hobby pages, supplier sheets. */
  | "trade pages"
  /** Recalled, not looked up: to be checked before anyone leans on it. */
  | "from memory"
  /** Worked out by us from other figures. */
  | "own calculation";

export interface Source {
  readonly citation: string;
  readonly trust: Trust;
  readonly note?: string;
}

export const SOURCES = {
  // Standards and pharmacopoeias
  "codex-210": {
    citation: "FAO/WHO Codex Alimentarius, CXS 210-1999, Standard for Named Vegetable Oils",
    trust: "published, copy read",
    note: "Read oil by oil in a reproduction that holds at least one copying slip; compare with the official text.",
  },
  "codex-210-amended": {
    citation: "FAO/WHO Codex Alimentarius, CXS 210-1999, amendment of 2022 (sunflower seed oils)",
    trust: "published, copy read",
    note: "Only 18:1, 18:2, saponification value and density were read; other acids of the row are recalled.",
  },
  "codex-210-quoted": {
    citation: "CXS 210-1999 as quoted on sunflower oil specification sheets",
    trust: "trade pages",
  },
  "codex-210-tabulated": {
    citation: "Codex (2015) as tabulated in Nutrients 2019, 11:2008, Table 4 (PMC6770503)",
    trust: "published, copy read",
  },
  "codex-210-recalled": {
    citation: "FAO/WHO Codex Alimentarius, CXS 210-1999, Tables 1 and 2",
    trust: "from memory",
    note: "The table pages could not be read; check against the official text.",
  },
  "codex-325r": {
    citation:
      "FAO/WHO Codex Alimentarius, CXS 325R-2017, Regional Standard for Unrefined Shea Butter",
    trust: "published, copy read",
  },
  "codex-325r-recalled": {
    citation: "CXS 325R-2017, Table 3 (fatty acids)",
    trust: "from memory",
  },
  "codex-86": {
    citation: "FAO/WHO Codex Alimentarius, CXS 86-1981, Standard for Cocoa Butter",
    trust: "published, copy read",
    note: "Gives maxima for unsaponifiables and free fatty acids only; no fatty acids, iodine or saponification value.",
  },
  "codex-33-recalled": {
    citation: "FAO/WHO Codex Alimentarius, CXS 33-1981, Standard for Olive Oils",
    trust: "from memory",
  },
  "ph-eur-almond": {
    citation: "European Pharmacopoeia 11.6, Almond oil, refined",
    trust: "published, copy read",
  },
  "ph-eur-mct": {
    citation: "European Pharmacopoeia, Triglycerides, medium-chain",
    trust: "published, copy read",
  },
  "ph-eur-recalled": {
    citation: "European Pharmacopoeia, Evening primrose oil, refined; Borage oil, refined",
    trust: "from memory",
  },
  "usp-almond": {
    citation: "USP-NF Almond oil, as printed on a specification sheet",
    trust: "trade pages",
  },
  "bpc-1911": {
    citation: "British Pharmaceutical Codex 1911, Oleum Theobromatis",
    trust: "published text read",
  },
  merck: {
    citation:
      "The Merck Index, monographs of castor, jojoba, rice bran, safflower and sunflower oil",
    trust: "published, copy read",
  },
  cameo: {
    citation:
      "Museum of Fine Arts Boston, materials encyclopaedia, Cocoa butter (CRC 61st ed., Merck 10th ed.)",
    trust: "published, copy read",
  },
  "argan-standard-recalled": {
    citation: "Moroccan standard NM 08.5.090, Argan oils",
    trust: "from memory",
  },

  // Papers and theses: composition and constants
  "akihisa-2010": {
    citation: "Akihisa et al. 2010, J Oleo Sci 59:351 (shea fats of Africa)",
    trust: "published text read",
    note: "Abstract.",
  },
  "akihisa-2011": {
    citation: "Akihisa et al. 2011, J Oleo Sci (triacylglycerols of 36 shea kernels, 7 countries)",
    trust: "published text read",
    note: "Abstract.",
  },
  "aocs-2020-cupuacu": {
    citation: "AOCS Annual Meeting 2020, abstract on cupuaçu fat",
    trust: "published text read",
    note: "Names two acids only.",
  },
  belitz: {
    citation: "Belitz, Grosch & Schieberle, Food Chemistry, Tables 14.8 and 14.9",
    trust: "published, copy read",
  },
  "binder-1962": {
    citation:
      "Binder et al. 1962, J Am Oil Chem Soc 39:513 (castor oil), as printed in the Merck Index",
    trust: "published, copy read",
  },
  "bouanga-2014": {
    citation: "Bouanga-Kalou et al. 2014 (Moringa oleifera seed oil)",
    trust: "published text read",
    note: "Its viscosity, 47 mPa s at 25 C, is implausibly low and is not used.",
  },
  "cocoa-fractionation": {
    citation:
      "Table 1 of a study of the acetone fractionation of cocoa butter, authors not identified",
    trust: "published, copy read",
    note: "Basis (area or mass percent) not stated.",
  },
  "di-vincenzo-2005": {
    citation: "Di Vincenzo et al. 2005, J Agric Food Chem 53:7473 (shea from seven countries)",
    trust: "published text read",
    note: "Abstract: oleic acid dominates in Ugandan shea.",
  },
  "ghannam-2023": {
    citation: "Ghannam 2023, Int J Thermofluids (density of vegetable oils, 10 to 75 C)",
    trust: "published text read",
  },
  "hilali-2005": {
    citation: "Hilali et al. 2005, J Agric Food Chem 53:2081 (21 argan oils)",
    trust: "published text read",
    note: "Abstract.",
  },
  "horrobin-2000": {
    citation: "Horrobin 2000, on evening primrose oil, as quoted on a reference page",
    trust: "published, copy read",
  },
  "huyghebaert-1974": {
    citation: "Huyghebaert & Hendrickx 1974 (argan oil)",
    trust: "published, copy read",
  },
  "iran-mango": {
    citation: "Iranian study of mango kernel fat, abstract, authors not identified",
    trust: "published text read",
  },
  "jahurul-2020": {
    citation: "Jahurul et al. 2020, J Food Process Preserv (mango kernel fats of Sabah)",
    trust: "published text read",
    note: "Abstract.",
  },
  "jin-2016": {
    citation: "Jin et al. 2016, J Am Oil Chem Soc 93:1115 (11 mango varieties)",
    trust: "published text read",
    note: "Abstract.",
  },
  "kiralan-2010": {
    citation: "Kiralan et al. 2010, Span J Agric Res 8:385 (21 Turkish hemp seed oils)",
    trust: "published text read",
    note: "Saturated acids are not in what was read.",
  },
  "komane-2017": {
    citation: "Komane et al. 2017, Rev Bras Farmacogn (commercial baobab oil)",
    trust: "published text read",
  },
  "kouassi-mango": {
    citation:
      "Kouassi et al., mango kernel fats of seven varieties of the Ivory Coast (orbi.uliege.be 2268/320085)",
    trust: "published text read",
    note: "Abstract. All but one are fully molten about 35 C.",
  },
  "lal-2000": {
    citation:
      "Lal et al. 2000, J Chem Eng Data 45:961 (viscosity of squalane), as cited in an encyclopaedia",
    trust: "published, copy read",
  },
  "leiva-2016": {
    citation: "Leiva 2016 (thermal properties of rosa mosqueta oil)",
    trust: "published text read",
  },
  "mcn-2011": {
    citation:
      "Matern Child Nutr 2011, 7(s2):59-79, doi 10.1111/j.1740-8709.2011.00301.x, Table 2 (PMC6860741)",
    trust: "published text read",
    note: "Single typical values, whole percents.",
  },
  "molecules-2019": {
    citation: "Molecules 2019, 24:4235, Table 1 (babassu oil, PMC6930611)",
    trust: "published text read",
  },
  "muchiri-2012": {
    citation: "Muchiri et al. 2012, J Am Oil Chem Soc 89:1567 (Kenyan mango kernel fats)",
    trust: "published text read",
    note: "Abstract.",
  },
  "nahm-2011": {
    citation: "Nahm 2011, MSc thesis, Rutgers University (seven West African shea butters)",
    trust: "published text read",
  },
  "noureddini-1992": {
    citation: "Noureddini, Teoh & Clements 1992, J Am Oil Chem Soc 69:1184 (densities)",
    trust: "published, copy read",
  },
  "ojha-2024": {
    citation: "Ojha et al. 2024, Compounds 4:37 (camellia seed oil)",
    trust: "published text read",
    note: "Abstract: 18:1 only.",
  },
  "plant-oils-2022": {
    citation: "Front Pharmacol 2022, 13:868461, Table 1 (plant oils in skin care, PMC9083541)",
    trust: "published text read",
  },
  "rescorla-1936": {
    citation: "Rescorla & Carnahan 1936 (viscosity of vegetable oils at 37.8 C)",
    trust: "published, copy read",
  },
  "sal-note-645": {
    citation: "Solvent Extractors' Association of India, note 645 on sal fat",
    trust: "published, copy read",
    note: "Raw fat also holds about 12 % glycerides of epoxy- and dihydroxystearic acid, not counted here.",
  },
  "salimon-2010": {
    citation: "Salimon et al. 2010, Sains Malaysiana 39:761 (castor oil)",
    trust: "published text read",
  },
  "scirep-2016-cocoa": {
    citation:
      "Scientific Reports 2016, 6:32050, introduction (ranges of the main triacylglycerols of cocoa butter)",
    trust: "published, copy read",
    note: "Quotes two earlier works, which were not read; the ends look like those of butters by origin.",
  },
  "solis-fuentes-2004": {
    citation: "Solís-Fuentes & Durán-de-Bazúa 2004 (mango seed fat)",
    trust: "published text read",
    note: "Abstract.",
  },
  "sridhar-1991": {
    citation: "Sridhar, Lakshminarayana & Kaimal 1991, J Am Oil Chem Soc 68:726 (kokum fat)",
    trust: "published, copy read",
  },
  "fuel-oil-table": {
    citation:
      "Goering 1981, Peterson 1983 and Ryan 1984, in a public table of the literature on vegetable oil fuels",
    trust: "published, copy read",
    note: "Single oils, main acids only; the locator names the work.",
  },
  "srivastava-2000": {
    citation: "Srivastava & Prasad 2000 (compilation of oil properties; sal)",
    trust: "published, copy read",
    note: "Prints the same range for 18:0 and 18:1, which is suspicious; a second copy has it too.",
  },
  "takagi-1995": {
    citation: "Takagi & Ando 1995, J Am Oil Chem Soc (cocoa butter)",
    trust: "published text read",
    note: "Mole percent within the monounsaturated fraction.",
  },
  "van-pee": {
    citation: "van Pee et al. (nine mango varieties)",
    trust: "published text read",
    note: "Found that the fat follows the 1,3-random-2-random rule.",
  },
  "wang-1990": {
    citation: "Wang et al. 1990 (four mango varieties)",
    trust: "published text read",
    note: "Abstract.",
  },
  wikipedia: {
    citation:
      "Wikipedia: Kokum butter; Borneo tallow nut oil; Grape seed oil; Squalane; Murumurufett (German edition)",
    trust: "published, copy read",
    note: "Tertiary; the table named in the locator.",
  },
  "bisht-1993-recalled": {
    citation: "Bisht, Sivasankaran & Bhatia 1993, Wear 161:193 (jojoba oil as a lubricant)",
    trust: "from memory",
    note: "24.9 mm2/s at 40 C and 6.4 at 100 C recalled; check.",
  },

  // Pore ratings
  "fulton-1989": {
    citation:
      "Fulton 1989, J Soc Cosmet Chem 40:321-333, Tables II and III and the prose of pp. 327-329",
    trust: "published text read",
  },
  "fulton-1989-copied": {
    citation: "Fulton 1989, J Soc Cosmet Chem 40:321-333, Table I (pp. 323-326)",
    trust: "published, copy read",
    note: "The pages could not be read: grades come from articles and lists that name or mirror the paper.",
  },
  "trade-ratings": {
    citation:
      "Comedogenic tables and articles on trade, clinic and hobby pages (some thirty pages compared)",
    trust: "trade pages",
    note: "Name no test of their own; the number of pages stands in the evidence.",
  },

  // Essential oils and limits on skin
  "iso-3515-copied": {
    citation: "ISO 3515:2002, Oil of lavender, as tabulated in Molecules 2022, 27:3216, Table 2",
    trust: "published, copy read",
  },
  "ph-eur-citrus-copied": {
    citation: "European Pharmacopoeia 6.2, Sweet orange oil; Lemon oil, as copied from Martindale",
    trust: "published, copy read",
    note: "The copy misprints one figure of sweet orange (geranial).",
  },
  "ph-eur-peppermint-quoted": {
    citation: "European Pharmacopoeia, Peppermint oil, as quoted on a textbook page",
    trust: "published, copy read",
  },
  "iso-4730-copied": {
    citation: "ISO 4730, Oil of Melaleuca, earlier edition, as tabulated in PMC5516420, Table 1",
    trust: "published, copy read",
    note: "The edition of 2017 is tighter.",
  },
  "bp-eucalyptus": {
    citation: "British Pharmacopoeia limits of eucalyptus oil on a producer's technical page",
    trust: "trade pages",
  },
  "gauvin-2004": {
    citation: "Gauvin et al. 2004 (geranium oil of Réunion)",
    trust: "published, copy read",
  },
  "citrus-2015": {
    citation: "PMC4486248, 2015, Table 1 (citrus oils); Danish EPA 2008, appendix 2",
    trust: "published text read",
  },
  "cedar-summary": {
    citation: "Published analyses of Moroccan Atlas cedarwood oils, in a summary (jis.kz)",
    trust: "published, copy read",
    note: "Two oils, wide apart.",
  },
  "chemical-catalogue": {
    citation: "Chemical catalogue page on patchouli oil, CAS 8014-09-3 (Burdock 1997 quoted)",
    trust: "trade pages",
  },
  "eu-2023-1545": {
    citation:
      "Regulation (EC) 1223/2009, Annex III, as amended by Regulation (EU) 2023/1545 (fragrance allergens)",
    trust: "published, copy read",
    note: "Opening page seen; the entries from a public copy, checked against a second list.",
  },
  "ifra-49": {
    citation: "IFRA Standards, 49th Amendment, texts of single standards",
    trust: "published text read",
    note: "Self-regulation of the trade, no law.",
  },
  "ifra-51-transcribed": {
    citation: "IFRA Standards, 51st Amendment (June 2023), public copies",
    trust: "published, copy read",
    note: "A 52nd Amendment was due in November 2026: read it before leaning on these.",
  },
  "ifra-quoted": {
    citation: "IFRA specification of safrole as quoted on a flavour and fragrance page",
    trust: "published, copy read",
  },
  "sccnfp-2000": {
    citation: "SCCNFP opinion of 24 October 2000 on methyl eugenol",
    trust: "published text read",
    note: "The same figures stand in Annex III of the EU regulation; entry number from memory.",
  },
  "annex-iii-limits": {
    citation: "Regulation (EC) 1223/2009, Annex III, entries 72 and 73 (isoeugenol 0.02 %)",
    trust: "published, copy read",
  },
  "sccs-1681-25": {
    citation: "SCCS/1681/25, opinion on tea tree oil, November 2025",
    trust: "published text read",
  },
  "tisserand-quoted": {
    citation:
      "Tisserand & Young 2014, Essential Oil Safety, 2nd edition, as quoted on a public education page",
    trust: "published, copy read",
  },
  "flash-pages": {
    citation: "Pages built on safety data sheets (flash points of essential oils)",
    trust: "trade pages",
  },

  // Names, allergens, trade habits
  "inci-names": {
    citation: "Open cosmetic ingredient name data set derived from the EU CosIng database (MIT)",
    trust: "published, copy read",
  },
  "fda-allergens-2025": {
    citation: "US FDA, Questions and Answers Regarding Food Allergens, edition 5, January 2025",
    trust: "published text read",
    note: "A food rule, used here only as a caution list.",
  },
  "faster-act": {
    citation: "US FASTER Act of 2021 (sesame as a major food allergen)",
    trust: "from memory",
  },
  // Waxes in oil
  "blake-2014": {
    citation:
      "Blake, Co & Marangoni 2014, JAOCS (critical concentrations of plant waxes in canola oil)",
    trust: "published text read",
    note: "Abstract; title and year recalled.",
  },
  "dassanayake-2009": {
    citation:
      "Dassanayake et al. 2009, JAOCS (rice bran, carnauba and candelilla wax in olive oil)",
    trust: "published text read",
    note: "Abstract; title and year recalled.",
  },
  "penagos-2023": {
    citation: "Penagos et al. 2023, Foods 12:1850 (carnauba wax and beeswax in sunflower oil)",
    trust: "published text read",
    note: "Abstract; the critical concentrations follow from the percents given as parts of them.",
  },
  "gels-2024-beeswax": {
    citation: "Gels 2024, 10:214 (beeswax in olive and peanut oil)",
    trust: "published text read",
    note: "Abstract.",
  },
  "martindale-copied": {
    citation: "Martindale, 24th ed. (melting points of beeswax in cocoa butter)",
    trust: "published, copy read",
    note: "The first percentage is garbled in the copy and read as 2.5.",
  },
  "supplier-sheets": {
    citation: "Supplier specification sheets (anonymous here; the locator says for what)",
    trust: "trade pages",
  },
  "shelf-pages": {
    citation: "Shelf-life tables of oil sellers and makers' pages (nine compared)",
    trust: "trade pages",
    note: "They differ by up to a factor of four; the low end is the one to date a batch by.",
  },
  "bench-habit": {
    citation: "Common practice among makers, no source",
    trust: "from memory",
  },
  recalled: {
    citation: "General knowledge of the trade and its handbooks, no page at hand",
    trust: "from memory",
  },
  "own-calculation": {
    citation: "Worked out by us; the locator says from what",
    trust: "own calculation",
  },
} as const satisfies Record<string, Source>;

export type SourceKey = keyof typeof SOURCES;
