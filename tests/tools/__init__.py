"""Small programs that make what lies in `resources/`, kept so that anybody can make it again."""
