/**
 * One clear step of what a customer feels, as the logarithm of a ratio. Own choice: a factor of 1.5 in yield value, and
 * 15 % in the thickness of the oil phase, which is the worst error of its fit.
 */
export const YIELD_STEP = Math.log(1.5);
export const THICKNESS_STEP = Math.log(1.15);
