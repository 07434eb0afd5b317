package main

import "strings"

// chain says which record amends which, where both were given, and where two
// revisions claim to follow the same record.
func chain(list []*finding) {
	by, next := map[string]*finding{}, map[string]*finding{}
	for _, f := range list {
		if f.Verified {
			by[f.Digest] = f
		}
	}
	for _, f := range list {
		old := by[f.Amends]
		switch {
		case f.Amends == "":
		case len(f.Withheld) > 0:
			f.Chain = "amends an earlier record; which one is withheld too"
		case old == nil:
			f.Chain = "amends the record with the digest " + f.Amends + ", which was not given, or does not verify"
		case old.Number != f.Number:
			f.Chain = "amends " + old.File
			f.Verified, f.Reason, f.advice = false, "it says that it amends the record of another job: "+old.File, "ask the firm that issued it"
		default:
			f.Chain = "amends " + old.File + otherKey(f, old)
			if other := next[f.Amends]; f.Verified && other != nil && other.Digest != f.Digest {
				f.Chain += "; so does " + other.File + ": ask the firm which of them counts"
			} else if f.Verified {
				next[f.Amends] = f
			}
		}
	}
	for _, f := range list {
		if new := next[f.Digest]; f.Verified && new != nil {
			f.Chain = strings.TrimPrefix(f.Chain+"; amended by "+new.File+otherKey(f, new), "; ")
		}
	}
}

// otherKey says that two records of a chain have different signers, or one with a new key.
func otherKey(a, b *finding) string {
	if a.Fingerprint == b.Fingerprint {
		return ""
	}
	return ", which another key signed"
}
