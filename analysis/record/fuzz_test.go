package record

import "testing"

// FuzzResults: what was read as results is written, read, and compared with itself.
func FuzzResults(f *testing.F) {
	r := &Record{Format: 1, Job: Job{Number: "A-1"}, Hold: &Hold{Decision: "pass", Cause: "leak", Rise: Between(2, 1, 3, "Pa"), Models: []Model{{Name: "leak", AICc: 1}}},
		Startup: &Startup{Rows: []Judged{{Name: "superheat", Value: Plain(5, "K"), U: Plain(1, "K")}}}, Traces: Traces{Hold: &Trace{T: Floats{0, 1}, Y: Floats{2, 3}, Breaks: []int{1}}}}
	seed, err := r.JSON()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Add([]byte(`{"format":1,"hold":{"rise":{"value":1e308,"low":-1e308}}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Parse(data)
		if err != nil {
			return
		}
		once, err := r.JSON()
		if err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		again, err := Parse(once)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, once)
		}
		if list, err := Diff(once, once, 1e-6); err != nil || len(list) > 0 {
			t.Errorf("it differs from itself: %v %v", list, err)
		}
		for _, p := range Compare(r, again) {
			if p.Finding == Beyond || p.Finding == OneOnly {
				t.Errorf("%s: %s, of the same record", p.Key, p.Finding)
			}
		}
	})
}
