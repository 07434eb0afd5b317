// Package readings turns the exports of instruments into a series in SI units.
//
// A file goes through four steps. open recognises its kind by its content and
// cuts it into a table of cells, without copying them. findLayout finds the
// header by the meaning of its words. convert decides, from whole columns, how
// times and numbers are written, and makes a reading of every row. join puts the
// readings in order and counts what is set aside.
//
// What can be read in two ways is never guessed: it is a fault that names both
// and the line of job.toml that settles it. What was left out is counted, so
// that the rows of a file are always the sum of the counts in Input.
package readings
