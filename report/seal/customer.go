package seal

import (
	"errors"

	"dryhold/report/seal/internal/pdf"
)

func readCustomer(file *pdf.File, f *form, data []byte) (*Signature, error) {
	return nil, errors.New("not written yet")
}
