// How is a length printed? Millimetres to 0.1, or inches and fractions to 1/64.

export type Units = "mm" | "in";

const INCH = 25.4;
const PARTS = 64;
const FINE = 10; // mm

/** Unit beside the number: `336 mm`, `13 15/64 in`. */
export function length(mm: number, units: Units): string {
  return `${bare(mm, units)} ${units}`;
}

/** Several lengths with one unit: `520 × 240 × 12 mm`. */
export function lengths(mm: readonly number[], units: Units): string {
  return `${mm.map((one) => bare(one, units)).join(" × ")} ${units}`;
}

/** A fit, which is finer than any size: hundredths of a millimetre, thousandths of an inch. */
export function fit(mm: number, units: Units): string {
  return units === "mm" ? `${minus(mm.toFixed(2))} mm` : `${minus((mm / INCH).toFixed(3))} in`;
}

/** A length that was found, as fine as it has to be: small ones are fits. */
export function found(mm: number, units: Units): string {
  const coarse = units === "mm" && Math.abs(mm * 10 - Math.round(mm * 10)) < 1e-3;
  return Math.abs(mm) >= FINE || coarse ? length(mm, units) : fit(mm, units);
}

/** A volume, in whole mm³ or hundredths of a cubic inch. */
export function volume(mm3: number, units: Units): string {
  if (units === "mm") return `${mm3 < 10 ? minus(mm3.toFixed(1)) : Math.round(mm3)} mm³`;
  return `${(mm3 / INCH ** 3).toFixed(3)} in³`;
}

/** Degrees to a tenth. */
export function angle(degrees: number): string {
  return `${trimmed(degrees.toFixed(1))}°`;
}

function bare(mm: number, units: Units): string {
  return units === "mm" ? minus(trimmed(mm.toFixed(1))) : inches(mm);
}

function inches(mm: number): string {
  const all = Math.round((Math.abs(mm) / INCH) * PARTS);
  const whole = Math.floor(all / PARTS);
  let over = all % PARTS;
  let under = PARTS;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  const sign = mm < 0 && all > 0 ? "−" : "";
  if (over === 0) return `${sign}${whole}`;
  return `${sign}${whole > 0 ? `${whole} ` : ""}${over}/${under}`;
}

const trimmed = (said: string): string => (said === "-0.0" ? "0" : said.replace(/\.0$/, ""));
const minus = (said: string): string => said.replace(/^-/, "−");
