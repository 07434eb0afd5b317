package record

// Passes reports a decision that meets its criterion, by more than the uncertainty
// or by less: "pass" or "conditional pass".
func Passes(decision string) bool { return decision == "pass" || decision == "conditional pass" }

// Fails reports a decision that does not meet its criterion, by more than the
// uncertainty or by less: "fail" or "conditional fail".
func Fails(decision string) bool { return decision == "fail" || decision == "conditional fail" }
