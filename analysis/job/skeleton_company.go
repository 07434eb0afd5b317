package job

import "time"

// CompanySkeleton writes a commented company.toml: what a firm states once for
// all its jobs. Its examples are of the given day; it decodes without a fault.
func CompanySkeleton(day time.Time) []byte {
	w := &skeleton{day: day.Format(time.DateOnly)}
	w.line("# What the firm states once for all jobs in the folders below this file. A job's own job.toml or form wins.")
	w.line("# A line that starts with # says nothing: take the # away to use it.")
	w.line("format = %d", Format)
	w.line("\n[company]\n# name = \"...\"  # the signing key is made in this name, so write it before the first record")
	w.line("# address = \"...\"\n# phone = \"...\"\n# licence = \"...\"\n# logo = \"logo.png\"  # beside this file, PNG or JPEG")
	w.line("\n[technician]\n# name = \"...\"\n# certification = \"...\"")
	w.line("\n[job]\n# timezone = \"America/Denver\"  # of the sites, where it is the same for all\n# altitude = \"1609 m\"")
	w.line("\n# One [[instrument]] for each gauge, thermometer, scale. Its data sheet gives range, accuracy and resolution:")
	w.line("# without the accuracy no criterion can be decided.")
	w.line("[[instrument]]\nid = \"vacuum-1\"  # a short name of your own; jobs name it so")
	w.line("measures = \"vacuum\"  # vacuum, pressure, temperature, mass or electrical")
	w.line("# principle = \"thermal conductivity\"\n# range = \"0 to 20000 micron\"\n# accuracy = \"10 %% + 5 micron\"\n# resolution = \"1 micron\"")
	w.line("# maker = \"...\"\n# model = \"...\"\n# serial = \"...\"\n# calibrated = %s\n# due = %s\n# certificate = \"...\"",
		w.day, day.AddDate(1, 0, 0).Format(time.DateOnly))
	w.line("\n[record]\n# audience = [\"homeowner\", \"inspector\", \"warranty\"]  # these are made where nothing is said")
	w.line("# units = \"us\"  # or si\n# language = \"en\"  # or es\n# paper = \"letter\"  # or a4")
	return []byte(w.b.String())
}
