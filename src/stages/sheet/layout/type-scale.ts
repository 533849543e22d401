/** Sizes and line heights in points; nothing is smaller than the practice's minimum. */
export interface TypeStyle {
  sizePt: number;
  leadingPt: number;
}

export interface TypeScale {
  title: TypeStyle;
  subtitle: TypeStyle;
  lead: TypeStyle;
  section: TypeStyle;
  body: TypeStyle;
  table: TypeStyle;
  caption: TypeStyle;
  footer: TypeStyle;
}

export function typeScale(minimumPt: number): TypeScale {
  const style = (sizePt: number, leading: number): TypeStyle => {
    const size = Math.max(sizePt, minimumPt);
    return { sizePt: size, leadingPt: Math.round(size * leading * 10) / 10 };
  };
  return {
    title: style(21, 1.2),
    subtitle: style(11, 1.35),
    lead: style(10.5, 1.4),
    section: style(12.5, 1.25),
    body: style(9.8, 1.36),
    table: style(9.6, 1.3),
    caption: style(9, 1.27),
    footer: style(9, 1.2),
  };
}
