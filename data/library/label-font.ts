/**
 * How wide the letters of a label are: advance widths of IBM Plex Sans (SIL Open Font License), the font a label is set
 * in. Read from the font file the package ships (tables hmtx, cmap and OS/2); a test reads it again and compares.
 *
 * Labels are set without kerning and ligatures, so the width of a line is the sum of its letters.
 */
import type { TypeFace } from "#core/make/label-type.ts";

/** Characters the widths stand for, in their order. */
const CHARACTERS =
  " !\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`abcdefghijklmnopqrstuvwxyz{|}~" +
  " ¡¢£¤¥¦§¨©ª«¬®¯°±²³´µ¶·¸¹º»¼½¾¿ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖ×ØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõö÷øùúûüýþÿıŒœ–—‘’‚“”„•…€™";

interface Weight {
  readonly weight: number;
  /** Heights as parts of the em. */
  readonly capHeight: number;
  readonly xHeight: number;
  /** Thousandths of the em, one for each character. */
  readonly widths: string;
}

const REGULAR: Weight = {
  weight: 400,
  capHeight: 0.698,
  xHeight: 0.516,
  widths:
    "236 284 419 713 598 927 694 242 335 335 450 600 272 399 272 383 600 600 600 600 600 600 600 600 600 600 292 292 600 600 600 477 891 641 653 621 671 583 559 695 707 400 510 634 501 812 707 708 606 708 640 581 572 678 609 891 613 593 580 317 383 317 600 565 600 534 580 503 580 549 324 528 568 250 250 527 272 873 568 560 580 580 367 487 351 568 492 768 507 499 464 343 314 343 600 236 284 514 595 612 605 314 586 600 776 399 513 600 476 600 468 600 346 346 600 573 652 326 600 359 398 513 847 872 824 467 641 641 641 641 641 641 907 621 583 583 583 583 400 400 400 400 674 707 708 708 708 708 708 600 708 678 678 678 678 593 606 640 534 534 534 534 534 534 864 503 549 549 549 549 250 250 250 250 555 568 560 560 560 560 560 600 568 568 568 568 568 499 580 499 250 985 931 588 780 273 273 274 475 474 475 396 803 625 658",
};

const BOLD: Weight = {
  weight: 600,
  capHeight: 0.698,
  xHeight: 0.522,
  widths:
    "236 309 471 656 600 960 713 260 337 337 556 600 299 402 299 437 600 600 600 600 600 600 600 600 600 600 319 319 600 600 600 493 899 672 663 642 689 600 577 712 719 423 545 678 521 817 719 712 641 712 664 611 580 689 638 949 655 632 599 329 437 329 600 559 600 559 600 513 600 558 350 545 588 275 275 562 294 888 588 563 600 600 393 499 374 588 524 819 544 524 502 363 376 363 600 236 309 541 586 623 637 376 574 600 787 434 545 600 468 600 469 600 347 345 600 593 670 349 600 348 423 545 840 863 827 486 672 672 672 672 672 672 950 642 600 600 600 600 423 423 423 423 694 719 712 712 712 712 712 600 712 689 689 689 689 632 641 677 559 559 559 559 559 559 864 513 558 558 558 558 275 275 275 275 589 588 563 563 563 563 563 600 571 588 588 588 588 524 600 524 275 994 910 588 780 292 292 295 517 517 520 420 869 626 627",
};

export const LABEL_FACE: TypeFace = { regular: faceOf(REGULAR), bold: faceOf(BOLD) };

function faceOf({ weight, capHeight, xHeight, widths }: Weight): TypeFace["regular"] {
  const advances = widths.split(" ").map((width) => Number(width) / 1000);
  const of = new Map([...CHARACTERS].map((character, at) => [character, advances[at]!]));
  return { weight, capHeight, xHeight, advances: of, widest: Math.max(...advances) };
}
