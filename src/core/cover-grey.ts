/**
 * Grey level of a cover, 0-255, on film and in colour alike. Film borders lie near 0, fillings near 255, bone and
 * dentine of a well exposed film mostly between 80 and 140: this one, flat and hard-edged, stands off all of them.
 */
export const COVER_GREY = 160;
