"""What people see and touch: Qt widgets over view models that know nothing of Qt."""
