// Package samples holds demo jobs of one invented firm in one invented town, and
// makes their readings.
//
// Every name, address, serial and certificate number in them is invented and
// marked so; every reading is simulated (package sim). The readings and the
// SOURCE.md beside them, which tells the truth behind them, are written by
//
//	go run ./samples/make
//
// job.toml and company.toml are written by hand.
package samples

import (
	"fmt"
	"path"
	"time"

	"dryhold/samples/sim"
)

//go:generate go run ./make

// A job is one folder here.
type job struct {
	name  string
	about string
	logs  []log
	notes []string // more for SOURCE.md
}

// A log is one file of readings.
type log struct {
	file  string
	start string // local time of its first second
	dress dress
	sim   sim.Scenario
	nitro *standing // instead of sim
}

// Files makes the readings and the SOURCE.md of all jobs, by path under samples.
func Files() (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, j := range jobs() {
		var facts []string
		for _, l := range j.logs {
			table, fact, err := l.make()
			if err != nil {
				return nil, fmt.Errorf("%s/%s: %w", j.name, l.file, err)
			}
			data, err := l.dress.write(table)
			if err != nil {
				return nil, fmt.Errorf("%s/%s: %w", j.name, l.file, err)
			}
			files[path.Join(j.name, l.file)] = data
			facts = append(facts, fact)
		}
		files[path.Join(j.name, "SOURCE.md")] = source(j, facts)
	}
	return files, nil
}

// A row is one reading of any log: pressure in Pa, temperature in K.
type row struct {
	time                  time.Time
	pressure, temperature float64
	mark                  sim.Mark
}

// make runs a log's simulation, and says its truth.
func (l *log) make() ([]row, string, error) {
	start, err := time.Parse("2006-01-02 15:04:05", l.start)
	if err != nil {
		return nil, "", err
	}
	at := func(s float64) time.Time { return start.Add(time.Duration(s * float64(time.Second))) }
	if l.nitro != nil {
		rows, fact := l.nitro.run(at)
		return rows, "## " + l.file + "\n\n" + fact, nil
	}
	r := l.sim.Run()
	var rows []row
	for _, x := range r.Rows() {
		rows = append(rows, row{at(x.Time), x.Indicated, x.Ambient, x.Mark})
	}
	return rows, truth(l, &r, at), nil
}
