"""From plates to what the torch does: kerf, leads, order, lettering, motion, time, coupon."""
