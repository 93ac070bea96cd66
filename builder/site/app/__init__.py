"""What makes a site work without a network, and lie on a home screen."""
