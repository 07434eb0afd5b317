package job

// NumberOf is the job's number as a file states it, for what has to know it before
// the job is read; "" where the file does not say it plainly.
func NumberOf(f File) string {
	s := open(f)
	if len(s.faults) > 0 {
		return ""
	}
	table, _ := s.tree["job"].(map[string]any)
	n, _ := table["number"].(string)
	return n
}
