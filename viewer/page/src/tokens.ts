// The colours of the picture; those of the words around it are in page.css, the same.

export const INK = 0x23211e;

export const TOKENS = {
  light: { ground: 0xfaf8f4, selected: 0x0f6b6b, fault: 0xa8261c, caution: 0x855900 },
  dark: { ground: 0x1c1b19, selected: 0x63c7c0, fault: 0xff8f80, caution: 0xe2b04a },
} as const;
