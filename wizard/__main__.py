"""`python -m wizard` is the same as `shaftlog`."""

from wizard.cli import main

raise SystemExit(main())
