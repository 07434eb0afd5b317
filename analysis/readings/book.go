package readings

import "dryhold/analysis/fault"

func openBook(f File, o Options, in *Input, rep *report) (*table, *layout) {
	rep.add(fault.Fault{Code: "kind", File: f.Name, Found: "an XLSX workbook", Expected: "CSV"})
	return nil, nil
}
