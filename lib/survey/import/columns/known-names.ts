/** What a column of readings or base checks may be. */
export const MEANINGS = [
  "time",
  "date",
  "longitude",
  "latitude",
  "hemisphere of longitude",
  "hemisphere of latitude",
  "easting",
  "northing",
  "line",
  "spot",
  "height_m",
  "channel",
  "leave out",
] as const;

export type Meaning = (typeof MEANINGS)[number];

const whole = (...words: string[]) => new RegExp(`^(?:gps |gnss )?(?:${words.join("|")})$`);

/** Names in English, German, Dutch, French, Spanish and Italian, as `headerWords` has them. */
const NAMES: readonly (readonly [Meaning, RegExp])[] = [
  [
    "time",
    whole(
      "time|clock|hour|hours|date ?time|time ?stamp|date (and )?time|(utc|gmt|local) (date ?)?time|time (utc|gmt|local)|utc|gmt|epoch|unix|unix time|seconds?|time of day",
      "zeit|uhrzeit|datum (und )?(uhr)?zeit|zeitstempel|tijd|datum (en )?tijd|tijdstip",
      "heure|date (et )?heure|horodatage|hora|fecha (y )?hora|ora|data (e )?ora",
    ),
  ],
  [
    "date",
    whole("date|day|datum|tag|dag|jour|fecha|dia|data|giorno|(utc|local) date|date (utc|local)"),
  ],
  [
    "longitude",
    whole(
      "(lon|long|longitude|lng|lange|langengrad|laenge|laengengrad|geogr lange|lengtegraad|longitud|longitudine)( (wgs ?84|dd|deg|degrees|decimal))?",
    ),
  ],
  [
    "latitude",
    whole(
      "(lat|latitude|breite|breitengrad|geogr breite|breedtegraad|latitud|latitudine)( (wgs ?84|dd|deg|degrees|decimal))?",
    ),
  ],
  [
    "easting",
    whole(
      "easting|eastings|east|rechtswert|ostwert|ost|oost|est|este|utm ?(e|east|easting|x)|e utm|x utm",
    ),
  ],
  [
    "northing",
    whole(
      "northing|northings|north|hochwert|nordwert|nord|noord|norte|utm ?(n|north|northing|y)|n utm|y utm",
    ),
  ],
  [
    "line",
    whole(
      "line|line (name|no|id|number)|profile?|transect|linie|messlinie|ligne|profil|linea|perfil|lijn",
    ),
  ],
  [
    "spot",
    whole(
      "spot|base|base (point|station|name)|check ?point|messpunkt|punkt|point de base|punto base",
    ),
  ],
  [
    "height_m",
    whole(
      "(coil|coils|sensor|boom|instrument|loop) (height|h)( m)?|height of (the )?coils|h coils?|spulenhohe|sensorhohe",
    ),
  ],
  [
    "leave out",
    whole(
      "(battery|batt|bat|akku|batterie|accu|bateria)( v| volt(age)?)?|volt(age)?|spannung",
      "temp(erature)?|t|temp (int|ext|air)|temperatur|temperatuur|temperatura|int(ernal)? temp(erature)?",
      "sats?|satellites?|satelliten|num sats?|no of sats|n sats?|[hpv]dop|dop|fix|quality|qualitat|fix quality|age|status|flag|error|err",
      "alt|altitude|elev|elevation|hohe|hoogte|altura|quota|ellipsoid height|msl",
      "speed|sog|velocity|geschwindigkeit|vitesse|course|cog|heading|azimuth|track angle",
      "roll|pitch|yaw|tilt|id|idx|index|no|nr|num|record|rec|row|seq|sequence|sample|station|mark|marker|event|counter|count|remarks?|comments?|notes?|bemerkung|remarque",
    ),
  ],
];

/** The meaning that a name tells; null where it tells none. */
export function meaningOf(words: string): Meaning | null {
  return NAMES.find(([, pattern]) => pattern.test(words))?.[0] ?? null;
}
