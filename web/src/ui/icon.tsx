const paths = {
  heed: "M9 3.5v7M9 13.6v.9",
  info: "M9 8v6M9 4.3v.9",
  sun: "M9 5.8a3.2 3.2 0 1 0 0 6.4a3.2 3.2 0 1 0 0-6.4M9 1.5v1.8M9 14.7v1.8M1.5 9h1.8M14.7 9h1.8M3.7 3.7l1.3 1.3M13 13l1.3 1.3M3.7 14.3L5 13M13 5l1.3-1.3",
  moon: "M14.8 11.2A6.3 6.3 0 0 1 6.8 3.2a6.3 6.3 0 1 0 8 8Z",
  down: "M9 2.5v9M5 8l4 4l4-4M3 15.5h12",
  play: "M5.5 3.5v11l9-5.5Z",
  pause: "M6 3.5v11M12 3.5v11",
  stop: "M4.5 4.5h9v9h-9Z",
  search: "M7.8 3a4.8 4.8 0 1 0 0 9.6a4.8 4.8 0 1 0 0-9.6M11.5 11.5L15.5 15.5",
  plus: "M9 3.5v11M3.5 9h11",
  minus: "M3.5 9h11",
  whole: "M3 7V3h4M15 7V3h-4M3 11v4h4M15 11v4h-4",
  undo: "M6.5 3.5L3 7l3.5 3.5M3 7h7a4.5 4.5 0 0 1 0 9H7.5",
  redo: "M11.5 3.5L15 7l-3.5 3.5M15 7H8a4.5 4.5 0 0 0 0 9h2.5",
  turnOn: "M4.2 5.2A6.2 6.2 0 1 1 2.8 9.6M4 1.8v3.6h3.6",
  turnBack: "M13.8 5.2A6.2 6.2 0 1 0 15.2 9.6M14 1.8v3.6h-3.6",
  more: "M9 4v.1M9 9v.1M9 14v.1",
  close: "M4.5 4.5l9 9M13.5 4.5l-9 9",
} as const;

export type IconName = keyof typeof paths;

/** Line drawings on an 18 px grid; always beside or inside something with a name. */
export function Icon({ name, size = 18 }: { name: IconName; size?: number }) {
  return (
    <svg
      width={size}
      height={size}
      viewBox="0 0 18 18"
      fill="none"
      stroke="currentColor"
      strokeWidth={1.7}
      strokeLinecap="round"
      strokeLinejoin="round"
      aria-hidden="true"
    >
      <path d={paths[name]} />
    </svg>
  );
}
