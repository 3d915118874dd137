/** Hours recorded twice for one moment differ by this much at most (rounding, a hover check). */
export const SAME_HOURS = 1;
