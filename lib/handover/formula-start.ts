/** What spreadsheets take for the beginning of a formula; a negative number is none. */
export const formulaStart = /^(?:[=+@\t\r\n＝＋＠－]|-(?!\d+(?:\.\d+)?$))/;
